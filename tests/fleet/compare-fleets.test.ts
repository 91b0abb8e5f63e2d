import { describe, expect, it } from 'vitest';
import { compareFleets, type SummarisedFleet } from '../../src/fleet/compare-fleets.js';
import { FleetSummariser, type SummaryOptions } from '../../src/fleet/fleet-summariser.js';
import { evaluateRows, ownPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

const PLAN = ownPlan({ checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: SOURCE }] });

async function fleetOf(name: string, rows: readonly Row[], options: SummaryOptions = {}): Promise<SummarisedFleet> {
  const summariser = new FleetSummariser(PLAN, options);
  for (const evaluation of await evaluateRows(PLAN, rows)) summariser.add(evaluation);
  return { summary: summariser.result(), source: { name, sha256: 'ab', inspections: rows.length } };
}
/** A site of `tested` rows of which the first `failed` fail. */
const site = (name: string, failed: number, tested: number, more: Row = {}): Row[] => Array.from({ length: tested }, (_, index) => ({ site: name, light_on_at: index < failed ? 50 : 70, ...more }));

describe('a fleet beside an earlier one', () => {
  // Newcombe RG, Statistics in Medicine 17 (1998) 873-890, Table II, method 10 (four digits printed).
  it.each([
    [[56, 70], [48, 80], 0.2, 0.0524, 0.3339, 'worse'],
    [[9, 10], [3, 10], 0.6, 0.1705, 0.809, 'worse'],
    [[5, 56], [0, 29], 0.0893, -0.0381, 0.1926, 'no difference shown'],
    [[0, 10], [0, 20], 0, -0.1611, 0.2775, 'no difference shown'],
    [[0, 10], [0, 10], 0, -0.2775, 0.2775, 'no difference shown'],
    [[10, 10], [0, 20], 1, 0.6791, 1, 'worse'],
    // The same, the other way round.
    [[48, 80], [56, 70], -0.2, -0.3339, -0.0524, 'better'],
  ] as const)('%j now and %j before', async ([failed, tested], [failedBefore, testedBefore], difference, low, high, verdict) => {
    const { rates } = compareFleets(await fleetOf('now', site('A', failed, tested)), await fleetOf('before', site('a', failedBefore, testedBefore)));
    expect(rates.map(({ group, name }) => [group, name])).toStrictEqual([['all', 'All inspections'], ['check', 'Warning'], ['site', 'A']]);
    for (const rate of rates) {
      expect(rate).toMatchObject({ now: { tested, failed }, before: { tested: testedBefore, failed: failedBefore }, verdict });
      expect(rate.difference).toBeCloseTo(difference, 4);
      expect(rate.low).toBeCloseTo(low, 4);
      expect(rate.high).toBeCloseTo(high, 4);
    }
  });

  it('matches names without regard to case, and compares no group that one side lacks or did not test', async () => {
    const now = await fleetOf('now', [...site('North', 9, 10), ...site('__proto__', 1, 10), ...site('New', 1, 5), { site: 'Idle' }]);
    const before = await fleetOf('before', [...site('NORTH', 3, 10), ...site('__PROTO__', 1, 10), ...site('Gone', 2, 5), ...site('Idle', 1, 5)]);
    const sites = compareFleets(now, before).rates.filter(({ group }) => group === 'site');
    expect(sites.map(({ name, now: one, before: other, verdict }) => [name, one.tested, other.tested, verdict])).toStrictEqual([
      ['North', 10, 10, 'worse'], ['New', 5, 0, 'not to be compared'], ['__proto__', 10, 10, 'no difference shown'], ['Idle', 0, 5, 'not to be compared'], ['Gone', 0, 5, 'not to be compared'],
    ]);
    expect(sites.at(-1)).toStrictEqual({
      group: 'site', name: 'Gone', difference: null, low: null, high: null, verdict: 'not to be compared',
      now: { tested: 0, failed: 0, recheck: 0, rate: null, low: null, high: null },
      before: { tested: 5, failed: 2, recheck: 0, rate: 0.4, low: expect.closeTo(0.1176, 4) as number, high: expect.closeTo(0.7693, 4) as number },
    });
  });

  it('names the earlier source and both periods, and sets the medians side by side', async () => {
    const loss = (psi: number): Row => ({ released_primary_start: 110, released_primary_end: 110 - psi, released_time: '1:00' });
    const now = await fleetOf('now.csv', [{ inspected_on: '2026-03-01', ...loss(1) }, { inspected_on: '2026-03-02', ...loss(4), buildup_from: 60, buildup_to: 120, buildup_time: '2:00' }], { from: '2026-01-01', to: '2026-12-31' });
    const before = await fleetOf('before.csv', [{ inspected_on: '2025-03-01', ...loss(2) }]);
    const { rates: _, ...rest } = compareFleets(now, before);
    expect(rest).toStrictEqual({
      source: { name: 'before.csv', sha256: 'ab', inspections: 1 },
      before: { from: null, to: null },
      now: { from: '2026-01-01', to: '2026-12-31' },
      medians: [{ figure: 'released_loss', before: 2, now: 2.5 }, { figure: 'applied_loss', before: null, now: null }, { figure: 'buildup_time', before: null, now: 120 }],
    });
  });
});
