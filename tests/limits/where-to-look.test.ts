import { beforeEach, describe, expect, it } from 'vitest';
import { LONGEST_FORMULA, toFormula } from '../../src/expressions/to-formula.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { likelyPlaces } from '../../src/limits/likely-places.js';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { layOutReadings } from '../../src/workbook/readings-layout.js';
import { readingsReferences } from '../../src/workbook/readings-references.js';
import { evaluateRow, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';
import { everyMeasureSet } from './every-measure-set.js';
import { released, WHERE_TO_LOOK_CASES } from './where-to-look-cases.js';

let EVERY: LimitPlan;
beforeEach(() => {
  EVERY = everyMeasureSet();
});
const SAYS = new Map(likelyPlaces().map(({ id, say }) => [id, say]));

const column = (plan: LimitPlan, name: string): number => plan.columns.findIndex((one) => one.name === `computed.${name}`);

async function whereOf(plan: LimitPlan, row: Row): Promise<unknown> {
  return (await evaluateRow(plan, row)).computed[column(plan, 'where_to_look')];
}

/** The rules that speak of a row, and that they are all of the cell. */
async function rulesOf(plan: LimitPlan, row: Row): Promise<string[]> {
  const text = await whereOf(plan, row);
  if (text === null) return [];
  const rules = [...SAYS].filter(([, say]) => (text as string).includes(say)).map(([id]) => id);
  expect(rules.map((id) => SAYS.get(id)).join(' ')).toBe(text);
  return rules;
}

describe('where to look first', () => {
  it.each(WHERE_TO_LOOK_CASES)('%s', async (_what, row, rules) => {
    expect(await rulesOf(EVERY, row)).toStrictEqual(rules);
  });

  it('has a worked case for every rule', () => {
    const worked = new Set(WHERE_TO_LOOK_CASES.flatMap(([, , rules]) => rules));
    expect([...SAYS.keys()].filter((id) => !worked.has(id))).toStrictEqual([]);
  });

  it('stands right of the reason, and is blank unless the inspection fails', async () => {
    const plan = shippedPlan('common-practice');
    const result = layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount: 1 }).columns.flatMap((one) => (one.part === 'computed' && one.column.band === 'result' ? [one.column.name] : []));
    expect(result).toStrictEqual(['computed.verdict', 'computed.primary_circuit_verdict', 'computed.secondary_circuit_verdict', 'computed.leak_share', 'computed.reason', 'computed.where_to_look']);
    for (const [, row] of WHERE_TO_LOOK_CASES) {
      const { verdict, computed } = await evaluateRow(EVERY, row);
      if (verdict !== 'fail') expect(computed[column(EVERY, 'where_to_look')]).toBeNull();
    }
  });

  it('says nothing by a rule that names a measure without a check', async () => {
    const plan = shippedPlan('us-nevada');
    expect(plan.likelyPlaces.flatMap(({ place }) => [...place.failed, ...place.passed]).filter((measure) => !['released_loss', 'applied_loss', 'buildup_time'].includes(measure))).toStrictEqual([]);
    expect(await whereOf(plan, { light_on_at: 'never', buzzer_on_at: 'never' })).toBeNull();
    // Of cut_out New Hampshire sets only an upper limit: no rule of a low one can hold.
    expect(shippedPlan('us-new-hampshire').likelyPlaces.map(({ place }) => place.id).filter((id) => id.startsWith('cut_'))).toStrictEqual(['cut_out_high', 'cut_in_low']);
  });

  it('is a blank column where no rule can hold', async () => {
    const plan = ownPlan({ checks: [{ check: 'a', title: 'A', measure: 'light_on_at', at_least: 60, unit: 'psi', source: SOURCE }] });
    expect([plan.likelyPlaces, await whereOf(plan, { light_on_at: 10 })]).toStrictEqual([[], null]);
  });

  it('means the same where a limit set adds a column under the name of a measure', async () => {
    const own = { checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: SOURCE }], columns: [{ name: 'warning_on_at', kind: 'text', title: 'Warning', help: 'Text.' }] };
    expect(await rulesOf(ownPlan(own), { light_on_at: 'never', warning_on_at: 'soon' })).toStrictEqual(['warning_never']);
  });

  it('takes a limit that must not be reached for one of the same side', async () => {
    const plan = (limit: Record<string, number | undefined>): LimitPlan => ownPlan({ checks: [{ check: 'a', title: 'A', measure: 'cut_out', ...limit, unit: 'psi', source: SOURCE }] });
    expect(await rulesOf(plan({ less_than: 130 }), { cut_out: 140 })).toStrictEqual(['cut_out_high']);
    expect(await rulesOf(plan({ more_than: 110 }), { cut_out: 95 })).toStrictEqual(['cut_out_low']);
    expect([{ less_than: 130 }, { more_than: 110 }].map((limit) => plan(limit).likelyPlaces.map(({ place }) => place.id))).toStrictEqual([['cut_out_high'], ['cut_out_low']]);
  });

  it('has no rule for what cannot fail: advice, and a check without a number', () => {
    const rules = (...parts: readonly Record<string, unknown>[]): string[] => ownPlan({ checks: parts.map((part) => ({ check: 'a', title: 'A', measure: 'cut_out', at_most: 130, unit: 'psi', source: SOURCE, ...part })) }).likelyPlaces.map(({ place }) => place.id);
    expect(rules({ severity: 'advisory' })).toStrictEqual([]);
    expect(rules({ severity: 'advisory', when: 'vehicles == 1' }, {})).toStrictEqual(['cut_out_high']);
    expect(rules({ measure: 'buildup_time', unit: 's', at_most: undefined, no_number: true })).toStrictEqual([]);
  });

  it('wants every check on a measure to pass, and one of them to fail', async () => {
    const check = (name: string, measure: string, at_most: number): Record<string, unknown> => ({ check: name, title: name, measure, at_most, unit: measure === 'buildup_time' ? 'min' : 'psi/min', source: SOURCE });
    const long = { checks: ['strict'], recheck_when: 'released_time < 90', say: 'too short', source: SOURCE };
    const plan = ownPlan({ checks: [check('strict', 'released_loss', 1), check('lenient', 'released_loss', 9), check('buildup', 'buildup_time', 5)], conditions: [long] });
    const row = { ...released(1, 1), buildup_time: '6:00' };
    expect(await rulesOf(plan, { ...row, released_time: '2:00' })).toStrictEqual(['slow_buildup_no_leak']);
    expect(await rulesOf(plan, row)).toStrictEqual(['slow_buildup']);
    expect(await rulesOf(plan, { ...row, ...released(4, 4), released_time: '2:00' })).toStrictEqual(['released_alone', 'released_both_alike', 'slow_buildup_with_leak']);
  });
});

describe('the rules of where to look first', () => {
  it('are short, in plain letters, each with a name of its own, and marked as common practice', () => {
    const rules = likelyPlaces();
    expect(new Set(rules.map(({ id }) => id)).size).toBe(rules.length);
    for (const { say, status } of rules) {
      expect(say).toMatch(/^[A-Z][\x20-\x7e]{20,198}\.$/);
      expect(status).toBe('common practice');
    }
  });

  it('name measures that exist', () => {
    const measures = new Set(EVERY.measures.map(({ measure }) => measure.measure));
    expect(likelyPlaces().flatMap(({ failed, passed }) => [...failed, ...passed]).filter((name) => !measures.has(name))).toStrictEqual([]);
    expect(EVERY.likelyPlaces.map(({ place }) => place.id)).toStrictEqual([...SAYS.keys()]);
  });

  it.each([...limitSetIds(), 'every measure'])('give formulas that a spreadsheet program takes: %s', (id) => {
    const plan = id === 'every measure' ? EVERY : shippedPlan(id);
    const references = readingsReferences(layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount: 9999 }), plan);
    for (const { name, tree } of plan.columns) if (tree && /circuit|places|where/.test(name)) expect([name, toFormula(tree, references).length]).toSatisfy(([, length]) => (length as number) < LONGEST_FORMULA / 2);
  });
});
