import { describe, expect, it } from 'vitest';
import { DayTally } from '../../src/fleet/day-tally.js';
import { evaluateRows, shippedPlan, type Row } from '../support/evaluate-rows.js';

const PLAN = shippedPlan('common-practice');
const BUILD_UP = (seconds: number): Row => ({ buildup_from: 60, buildup_to: 120, buildup_time: `${seconds} s` });

async function tallyOf(rows: readonly Row[]): Promise<DayTally> {
  const tally = new DayTally();
  for (const evaluation of await evaluateRows(PLAN, rows)) tally.add(evaluation);
  return tally;
}

describe('the tally of a day', () => {
  it('counts inspections, units and verdicts, and has quantiles of losses and build-up times', async () => {
    const tally = await tallyOf([1, 2, 3, 4, 10].map((loss, index) => ({ unit: index < 2 ? 'T1' : index === 2 ? 't1' : `U${index}`, released_primary_start: 110, released_primary_end: 110 - loss, released_time: '1:00', ...BUILD_UP(60 * (index + 1)) })));
    // By hand: losses 1 2 3 4 10 psi/min, at most 3 passes; build-up 60 to 300 s, at most 300 passes. Type 7: the 90th
    // percentile of five stands at 1 + 0.9 x 4 = 4.6, between the 4th and the 5th.
    expect(tally.result()).toStrictEqual({
      inspections: 5, units: 3, tested: 2, failed: 2, recheck: 0, rate: 1, low: expect.closeTo(0.3423802275, 9) as number, high: 1,
      released_loss_median: 3, released_loss_p90: expect.closeTo(7.6, 12) as number, applied_loss_median: null, applied_loss_p90: null, buildup_time_median: 180, buildup_time_p90: expect.closeTo(276, 12) as number,
    });
  });

  it('holds the same when days are put together in any order', async () => {
    const rows: Row[] = [3, 1, 2, 9, 5, 4, 8].map((loss, index) => ({ unit: `T${index % 3}`, released_primary_start: 110, released_primary_end: 110 - loss, released_time: '1:00' }));
    const whole = (await tallyOf(rows)).result();
    for (const cut of [1, 3, 6]) {
      const parts = [await tallyOf(rows.slice(cut)), await tallyOf(rows.slice(0, cut))] as const;
      parts[0].merge(parts[1].state());
      expect(parts[0].result()).toStrictEqual(whole);
    }
  });

  it('is all blank without an inspection', () => {
    expect(new DayTally().result()).toStrictEqual({
      inspections: 0, units: 0, tested: 0, failed: 0, recheck: 0, rate: null, low: null, high: null,
      released_loss_median: null, released_loss_p90: null, applied_loss_median: null, applied_loss_p90: null, buildup_time_median: null, buildup_time_p90: null,
    });
  });
});
