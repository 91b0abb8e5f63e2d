import { beforeEach, describe, expect, it } from 'vitest';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet } from '../../src/limits/load-limit-set.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { blankCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { planOf } from '../../src/workbook/plan-for.js';
import { layOutReadings } from '../../src/workbook/readings-layout.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { ownPlan, SOURCE } from '../support/evaluate-rows.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from '../workbook/bytes-of.js';

const csv = (header: string, ...rows: string[]): Uint8Array => Buffer.from(`${header}\n${rows.join('\n')}\n`);
const SUSPENSION = csv(
  'inspection_id,inspected_on,unit,released_primary_start,released_primary_end,released_time,suspension_start,suspension_end,suspension_time',
  'A-1,2026-03-14,K-1,104,102,1:00,100,97,5:00',
  'A-2,2026-03-15,K-2,104,98,1:00,100-104,99,5:00',
  'A-3,2026-03-16,K-3,104,98,1:00,,,',
  'A-4,2026-03-17,K-4,104,98,1:00,90,95,soon',
);

const optionalFields = fieldDictionary().fields.filter((field) => field.when_used).map(({ name }) => name);
const shown = (plan: ReturnType<typeof planOf>): string[] =>
  layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount: 1 }).columns.flatMap((column) => (column.part === 'entry' ? [column.field.name] : column.part === 'computed' ? [column.column.name] : []));

describe('columns that are shown when used', () => {
  it('are left out where the set uses none of them, and so are their measures', () => {
    const plan = planOf('common-practice', { optionalColumns: new Set() });
    expect([...plan.optionalColumns]).toStrictEqual([]);
    expect(shown(plan).filter((name) => optionalFields.some((field) => name.includes(field)))).toStrictEqual([]);
    expect(plan.measures.filter(({ measure }) => measure.when_used).map(({ measure }) => measure.measure)).toStrictEqual([]);
  });

  it('are shown at their place where the checks, limits or conditions of the set name them', () => {
    const plan = planOf('us-new-hampshire', { optionalColumns: new Set() });
    expect([...plan.optionalColumns].sort()).toStrictEqual(['maker_buildup_time', 'recovery_time']);
    const names = shown(plan);
    expect(names[names.indexOf('recovery_time') - 1]).toBe('engine_rpm');
    expect(names[names.indexOf('maker_buildup_time') - 1]).toBe('required_reservoir_volume');
    expect(names).toContain('computed.recovery_time_s');
    const conditioned = ownPlan({ extends: 'us-nevada', conditions: [{ checks: ['buildup'], recheck_when: 'applications_made < 5', say: 'too few', source: SOURCE }] });
    expect([...conditioned.optionalColumns].filter((name) => optionalFields.includes(name))).toStrictEqual(['applications_made']);
  });

  it('stand in a blank table in the order of a sheet', async () => {
    let text = '';
    for await (const line of blankCsv('us-new-hampshire')) text += line;
    const names = text.trim().split(',');
    expect(names.filter((name) => optionalFields.includes(name))).toStrictEqual(['recovery_time', 'maker_buildup_time']);
    expect(names[names.indexOf('recovery_time') - 1]).toBe('engine_rpm');
  });

  it('are known to every reader, and computed with where the file has them', async () => {
    const fleet = await evaluateReadings(SUSPENSION, { limits: 'common-practice' });
    expect(fleet.columns.filter(({ role }) => role === 'extra')).toStrictEqual([]);
    // 3 psi in 5 min and 3 psi (the middle of the range) in 5 min: 0.6 psi/min
    expect(fleet.evaluations.map(({ measures }) => measures['suspension_loss'])).toStrictEqual([0.6, 0.6, null, null]);
    expect(fleet.problems.map(({ code, column }) => [code, column])).toStrictEqual([['not_understood', 'suspension_time']]);
    expect(fleet.evaluations[3]!.reason).toContain('Not understood: [Suspension time]');
  });

  it('bring no measure where the file has not all that it needs', async () => {
    const fleet = await evaluateReadings(csv('inspected_on,unit,suspension_start', '2026-03-14,K-1,100'), { limits: 'common-practice' });
    expect(Object.keys(fleet.evaluations[0]!.measures)).not.toContain('suspension_loss');
    const again = await evaluateReadings(await bytesOf(workbookOf(fleet)), { limits: 'common-practice' });
    expect(again.evaluations[0]!.inspection.values).toStrictEqual(fleet.evaluations[0]!.inspection.values);
  });

  it('go through a workbook and back, and verify finds nothing changed', async () => {
    const fleet = await evaluateReadings(SUSPENSION, { limits: 'us-new-hampshire' });
    const bytes = await bytesOf(workbookOf(fleet));
    const again = await evaluateReadings(bytes, { limits: 'us-new-hampshire' });
    expect(again.evaluations.map(({ inspection }) => [...inspection.asFound])).toStrictEqual(fleet.evaluations.map(({ inspection }) => [...inspection.asFound]));
    expect(again.evaluations.map(({ measures }) => measures)).toStrictEqual(fleet.evaluations.map(({ measures }) => measures));
    const { findings } = await verifyWorkbook(bytes);
    expect(findings.filter(({ sheet }) => sheet === 'Readings' || sheet === 'Limits')).toStrictEqual([]);
  });

  it('of a set of one\'s own go before those of the same name', () => {
    const column = { name: 'recovery_time', kind: 'time', title: 'Our recovery', help: 'Ours.' };
    const plan = ownPlan({ extends: 'common-practice', columns: [column], measures: [{ measure: 'suspension_loss', title: 'Ours', unit: 'psi', expression: 'cut_out', meaning: 'Ours.' }] });
    expect(plan.dictionary.fields.filter(({ name }) => name === 'recovery_time').map(({ title }) => title)).toStrictEqual(['Our recovery']);
    expect(plan.measures.filter(({ measure }) => measure.measure === 'suspension_loss').map(({ measure }) => measure.title)).toStrictEqual(['Ours']);
  });

  it('make a build-up that was timed by events a matter of entering its pressures', async () => {
    const run = async (row: string): Promise<unknown> => (await evaluateReadings(csv('inspected_on,unit,buildup_run,buildup_from,buildup_to,buildup_time', `2026-03-14,K-1,${row}`), { limits: 'us-nevada' })).evaluations[0]!.checks.find(({ check }) => check === 'buildup')!.verdict;
    expect([await run('empty to cut-out,,,4:00'), await run('empty to cut-out,0,120,4:00'), await run(',,,4:00'), await run('between pressures,50,90,4:00')]).toStrictEqual(['recheck', 'pass', 'pass', 'pass']);
  });
});

describe('columns that are shown when used, as LibreOffice computes them', { timeout: 180_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  it.each(['common-practice', 'us-new-hampshire'])('%s', async (limits) => {
    const fleet = await evaluateReadings(SUSPENSION, { limits });
    const { compared, differences } = await compareWithRecalculation(await bytesOf(workbookOf(fleet)), await bytesOf(workbookOf(fleet, { withoutResults: true })));
    expect(differences.filter(({ cell }) => /^(Readings|Limits)!/.test(cell))).toStrictEqual([]);
    expect(compared).toBeGreaterThanOrEqual(fleet.evaluations.length * fleet.plan.columns.length);
  });

  it('a blank workbook stays blank', async () => {
    const bytes = await bytesOf(blankWorkbook({ limits: 'us-new-hampshire', rows: 3, withoutResults: true }));
    const { differences } = await compareWithRecalculation(await bytesOf(blankWorkbook({ limits: 'us-new-hampshire', rows: 3 })), bytes);
    expect(differences.filter(({ cell }) => /^(Readings|Limits)!/.test(cell))).toStrictEqual([]);
  });
});

it('a plan knows the same measures whatever half-widths the table has', () => {
  const set = loadLimitSet('us-new-hampshire');
  const names = (optionalColumns?: ReadonlySet<string>): string[] => compileLimitSet(set, optionalColumns ? { optionalColumns } : {}).columns.map(({ name }) => name);
  expect(names(new Set(['cut_in_half_width']))).toStrictEqual(names());
});
