import { describe, expect, it } from 'vitest';
import type { Check, LimitSet } from '../../src/limits/limit-set.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { requireOutside } from '../support/recalculate.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';
import { EVERY_KIND_CSV, ownLimitSet } from './every-kind-of-cell.js';
import { asCell, recordsOfSheet } from './sheet-tables.js';
import { withSheetChanged, workbookParts } from './workbook-parts.js';

/** New numbers for cells of the sheet Limits, by their defined names, and the same change in the limit set. */
const CHANGES: readonly { readonly name: string; readonly value: number; readonly change: (set: LimitSet) => LimitSet }[] = [
  { name: 'limit_released_loss_1', value: 1, change: (set) => withCheck(set, 'released_loss', 0, { at_most: 1 }) },
  { name: 'limit_cut_out_1_low', value: 8.5, change: (set) => withCheck(set, 'cut_out', 0, { between: [8.5, 9] }) },
  { name: 'limit_hold_2', value: 100, change: (set) => withCheck(set, 'hold', 1, { more_than: 100 }) },
  { name: 'limit_rate_1', value: 130, change: (set) => withCheck(set, 'rate', 0, { at_most: '130 * reservoir_volume / required_reservoir_volume' }) },
  { name: 'condition_applied_loss_1', value: 40, change: (set) => ({ ...set, conditions: set.conditions.map((condition) => ({ ...condition, recheck_when: condition.recheck_when.replace('applied_time < 60', 'applied_time < 40') })) }) },
];

function withCheck(set: LimitSet, name: string, nth: number, change: Partial<Check>): LimitSet {
  const wanted = set.checks.filter(({ check }) => check === name)[nth];
  return { ...set, checks: set.checks.map((check) => (check === wanted ? { ...check, ...change } : check)) };
}

async function addressOf(workbook: Uint8Array, name: string): Promise<string> {
  const found = new RegExp(`<definedName name="${name}">'?Limits'?!\\$([A-Z]+)\\$(\\d+)</definedName>`).exec((await workbookParts(workbook)).get('xl/workbook.xml')!);
  if (!found) throw new Error(`no cell is named ${name}`);
  return `${found[1]}${found[2]}`;
}

describe('a number changed on the sheet Limits', { timeout: 120_000 }, () => {
  it('changes the verdicts on Readings as the same change of the limit set does', async (context) => {
    requireOutside(context, 'soffice');
    const set = ownLimitSet();
    const before = await evaluateReadings(Buffer.from(EVERY_KIND_CSV), { limits: set });
    let twin = await bytesOf(workbookOf(before, { withoutResults: true }));
    for (const { name, value } of CHANGES) {
      const address = await addressOf(twin, name);
      twin = await withSheetChanged(twin, 'Limits', (xml) => xml.replace(new RegExp(`(<c r="${address}"[^>]*>)<v>[^<]*</v>`), `$1<v>${value}</v>`));
    }
    const recalculated = (await convertByLibreOffice(twin, 'changed.xlsx', 'xlsx')).get('changed.xlsx')!;
    const after = await evaluateReadings(Buffer.from(EVERY_KIND_CSV), { limits: CHANGES.reduce((changed, { change }) => change(changed), set) });
    const sheet = [...(await recordsOfSheet(recalculated, 'Readings', 3)).values()];
    const stored = (fleet: typeof after): unknown[] => fleet.evaluations.map(({ computed }) => Object.fromEntries(fleet.plan.columns.map(({ name }, index) => [name, asCell(computed[index]!)])));
    const shown = sheet.map((record) => Object.fromEntries(after.plan.columns.map(({ name }) => [name, asCell(record[name]!)])));
    expect(shown).toStrictEqual(stored(after));
    // Every change matters to some row, so that the agreement says something.
    for (const check of ['released_loss', 'cut_out', 'hold', 'rate', 'applied_loss']) {
      const verdicts = (fleet: typeof after): unknown[] => fleet.evaluations.map(({ checks }) => checks.find((one) => one.check === check)?.verdict);
      expect([check, verdicts(after)]).not.toStrictEqual([check, verdicts(before)]);
    }
  });
});
