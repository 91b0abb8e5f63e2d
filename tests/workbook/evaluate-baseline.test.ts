import { describe, expect, it } from 'vitest';
import { evaluationSchema } from '../../src/fleet/evaluation-schema.js';
import { sha256 } from '../../src/util/sha256.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { beside, csvOf, warnings, warningSet } from './baseline-tables.js';
import { bytesOf, textOf } from './bytes-of.js';

const SAMPLE = 'samples/invented-fleet.csv';

async function* streamed(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += 1000) yield bytes.subarray(at, at + 1000);
}

describe('a fleet beside a baseline', { timeout: 60_000 }, () => {
  it('has no baseline where none is given', async () => {
    const { baseline, baselineInfo } = await evaluateReadings(SAMPLE);
    expect([baseline, baselineInfo]).toStrictEqual([null, null]);
  });

  it('shows no difference from itself', async () => {
    const { baseline, baselineInfo, evaluations, source } = await evaluateReadings(SAMPLE, { baseline: SAMPLE });
    const { rates, medians, before, now } = baseline!;
    expect(rates.length).toBeGreaterThan(10);
    for (const rate of rates) {
      expect(rate).toMatchObject({ difference: 0, verdict: 'no difference shown' });
      expect(rate.before).toStrictEqual(rate.now);
      // The method is symmetrical when both sides are the same.
      expect(rate.low! + rate.high!).toBeCloseTo(0, 12);
    }
    for (const { before: then, now: after } of medians) expect(then).toBe(after);
    expect(before).toStrictEqual(now);
    expect(baseline!.source).toStrictEqual({ name: 'invented-fleet.csv', sha256: source.sha256, inspections: evaluations.length });
    expect(baselineInfo).toMatchObject({ shared: evaluations.length, otherLimits: null, period: { from: null, to: null } });
  });

  // Newcombe RG, Statistics in Medicine 17 (1998) 873-890, Table II, column (a), method 10: 56/70 and 48/80.
  it('gives the difference now less then with the interval in print', async () => {
    const { baseline, baselineInfo } = await beside(warnings(56, 70), warnings(48, 80, { first: '2025-01-01' }));
    const all = baseline!.rates[0]!;
    expect(all).toMatchObject({ group: 'all', verdict: 'worse', now: { failed: 56, tested: 70 }, before: { failed: 48, tested: 80 } });
    expect([all.difference!, all.low!, all.high!].map((value) => value.toFixed(4))).toStrictEqual(['0.2000', '0.0524', '0.3339']);
    expect(baseline).toMatchObject({ before: { from: '2025-01-01', to: '2025-03-21' }, now: { from: '2026-03-01', to: '2026-05-09' } });
    expect(baselineInfo).toMatchObject({ shared: 0, problems: 0, counts: { inside: 80, undated: 0, first: '2025-01-01', last: '2025-03-21' } });
  });

  it('counts now only what lies in the period, and of what stands on both sides only what is counted', async () => {
    const early = warnings(4, 5, { first: '2025-01-01' });
    const { baseline, baselineInfo } = await beside([...early, ...warnings(1, 10), { unit: 'T-0', light_on_at: 50 }], early, { from: '2026-01-01', to: '2026-12-31' });
    expect(baseline!.rates[0]).toMatchObject({ now: { failed: 1, tested: 10 }, before: { failed: 4, tested: 5 }, verdict: 'better' });
    expect(baseline).toMatchObject({ now: { from: '2026-01-01', to: '2026-12-31' }, before: { from: '2025-01-01', to: '2025-01-05' } });
    expect(baselineInfo!.shared).toBe(0);
    expect((await beside([...early, ...warnings(1, 10)], early)).baselineInfo!.shared).toBe(5);
  });

  it('takes an evaluated workbook, evaluates it with the limits of this table, and knows that it had others', async () => {
    const earlier = csvOf([{ unit: 'T-1', inspected_on: '2025-01-01', light_on_at: 56 }, { unit: 'T-2', inspected_on: '2025-01-02', light_on_at: 70 }]);
    // At 55 psi the warning of 56 psi passes; at 60 it fails.
    const lenient = await evaluateReadings(earlier, { limits: warningSet({ id: 'lenient', title: 'Lenient', checks: [{ ...warningSet().checks[0], at_least: 55 }] }), name: 'lenient.csv' });
    const book = await bytesOf(workbookOf(lenient));
    for (const baseline of [book, streamed(book)]) {
      const { baseline: comparison, baselineInfo } = await evaluateReadings(csvOf(warnings(0, 4)), { limits: warningSet(), baseline });
      expect(comparison!.rates[0]).toMatchObject({ before: { failed: 1, tested: 2 }, now: { failed: 0, tested: 4 } });
      expect(comparison!.source).toStrictEqual({ name: 'the baseline', sha256: sha256(book), inspections: 2 });
      expect(baselineInfo!.otherLimits).toBe('lenient: Lenient');
    }
    const sameId = await bytesOf(workbookOf(await evaluateReadings(earlier, { limits: warningSet({ notice: 'An older version.' }) })));
    expect((await evaluateReadings(csvOf(warnings(0, 4)), { limits: warningSet(), baseline: sameId })).baselineInfo!.otherLimits).toBe('another version of own: Own');
    const sameSet = await bytesOf(workbookOf(await evaluateReadings(earlier, { limits: warningSet() })));
    expect((await evaluateReadings(csvOf(warnings(0, 4)), { limits: warningSet(), baseline: sameSet })).baselineInfo!.otherLimits).toBeNull();
  });

  it('counts of a workbook whose summaries count a period that period', async () => {
    const table = csvOf([...warnings(3, 4, { first: '2025-01-01' }), ...warnings(1, 10), { unit: 'T-0', light_on_at: 50 }]);
    const book = await bytesOf(workbookOf(await evaluateReadings(table, { limits: warningSet(), to: '2025-12-31' })));
    const { baseline, baselineInfo } = await evaluateReadings(table, { limits: warningSet(), from: '2026-01-01', baseline: book });
    expect(baseline!.rates[0]).toMatchObject({ before: { failed: 3, tested: 4 }, now: { failed: 1, tested: 10 } });
    expect(baseline).toMatchObject({ before: { from: '2025-01-01', to: '2025-12-31' }, now: { from: '2026-01-01', to: '2026-03-10' } });
    expect(baselineInfo).toMatchObject({ shared: 0, period: { from: null, to: '2025-12-31' }, counts: { inside: 4, after: 10, undated: 1, first: '2025-01-01', last: '2026-03-10' } });
  });

  it('is not to be compared where nothing is left on one side', async () => {
    const { baseline, summary } = await beside(warnings(1, 10), warnings(1, 10), { from: '2030-01-01' });
    expect(summary).toMatchObject({ trend: [], fleet: { inspections: 0, tested: 0 } });
    expect(new Set(baseline!.rates.map(({ verdict }) => verdict))).toStrictEqual(new Set(['not to be compared']));
    expect(baseline!.now).toStrictEqual({ from: '2030-01-01', to: null });
  });

  it('is JSON in the form of its schema', async () => {
    for (const options of [{}, { from: '2030-01-01' }, { from: '2026-01-01', to: '2026-06-30', by: 'week' as const }]) {
      const fleet = await evaluateReadings(SAMPLE, { ...options, baseline: 'samples/invented-fleet-messy.csv' });
      const json = JSON.parse(await textOf(evaluationJson(fleet))) as { baseline: unknown; period: unknown };
      expect(evaluationSchema.safeParse(json).error).toBeUndefined();
      expect(json.baseline).toStrictEqual(JSON.parse(JSON.stringify(fleet.baseline)));
    }
  });
});

describe('a baseline that cannot be used', { timeout: 60_000 }, () => {
  const now = csvOf(warnings(0, 2));
  it.each([
    ['a header alone', Buffer.from('unit,inspected_on\n'), 'input_empty', 'the baseline: there is no inspection below the header; name a table with inspections, or leave the baseline out'],
    ['nothing at all', Buffer.from(''), 'input_empty', /^the baseline: there are no rows/],
    ['no unit', Buffer.from('colour,inspected_on\nred,2026-01-01\n'), 'header_missing', /^the baseline: no header row with a column named unit/],
    ['no such file', 'none.xlsx', 'input_missing', 'the baseline none.xlsx: there is no such file; check the path'],
    ['a damaged workbook', Buffer.from([0x50, 0x4b, 3, 4, 1, 2, 3]), 'input_unreadable', /^the baseline: /],
  ])('%s: says that it is the baseline', async (_, baseline, code, message) => {
    await expect(evaluateReadings(now, { limits: warningSet(), baseline })).rejects.toMatchObject({ name: 'TreadlebookError', code, message: typeof message === 'string' ? message : (expect.stringMatching(message) as string) });
  });

  it('is a blank workbook', async () => {
    const baseline = await bytesOf(blankWorkbook({ rows: 3 }));
    await expect(evaluateReadings(now, { baseline, baselineName: 'blank.xlsx' })).rejects.toThrow('the baseline blank.xlsx: there is no inspection below the header');
  });

  it('is not blamed for what is wrong with the table itself', async () => {
    await expect(evaluateReadings(Buffer.from('unit\n'), { name: 'now.csv', baseline: now })).rejects.toThrow(/^now\.csv: there is no inspection/);
  });
});
