import { describe, expect, it } from 'vitest';
import { lossTrend } from '../../src/fleet/loss-trend.js';
import { ordinalDate, ordinalDay } from '../../src/fleet/ordinal-day.js';

const START = '2026-01-01';
const LOSS = { measure: 'released_loss', unit: 'psi/min' };
/** The trend of losses so many days after the start. */
const trend = (days: readonly number[], losses: readonly number[], limit: number | null = 3) => lossTrend({ dates: days.map((day) => ordinalDate(ordinalDay(START) + day)), losses, limit }, LOSS, null);
const after = (day: number): string => ordinalDate(ordinalDay(START) + day);

describe('the trend of a loss', () => {
  it('is that of the sulfate of the Unified Guidance', () => {
    // USEPA Unified Guidance 2009, Example 17-6: S 194, p 3.267574e-07 (printed); slope 26.66667, interval 20.00000 to
    // 35.71182 (printed). Here x runs in days, ten to one of the example: so 90 days are 9 of the example's.
    const x = [89.6, 89.8, 90.1, 90.3, 90.6, 90.8, 91.1, 91.3, 91.6, 91.8, 92.1, 92.6, 93.1, 93.6, 94.1, 94.6, 95.1, 95.6, 95.8, 96.1, 96.3, 96.6, 96.8];
    const y = [480, 450, 490, 520, 485, 510, 510, 530, 510, 560, 560, 540, 590, 550, 600, 700, 570, 610, 650, 620, 830, 720, 590];
    const found = trend(x.map((one) => Math.round(10 * (one - 89.6))), y, null);
    expect(found.p! / 3.267573570717951e-7).toBeCloseTo(1, 6);
    expect(found.slope_per_90_days).toBeCloseTo(9 * 26.6666666667, 6);
    expect(found.slope_low).toBeCloseTo(9 * 20, 6);
    expect(found.slope_high).toBeCloseTo(9 * 35.71182403, 5);
    expect(found).toMatchObject({ direction: 'rising', crossing: 'no limit', crosses_on: null });
  });

  it('is steady where ties hide it', () => {
    // EPA QA/G-9S p. 109: Z 1.685 (printed), p 0.0919982592; slope 1, interval 0 to 2.
    const found = trend([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11], [10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15], 30);
    expect(found.p).toBeCloseTo(0.0919982592, 8);
    expect(found).toMatchObject({ slope_per_90_days: 90, slope_low: 0, slope_high: 180, direction: 'steady', crossing: 'no rise shown', crosses_on: null });
  });

  it('needs five days', () => {
    // Kendall's exact distribution: with n = 4 the smallest two-sided p is 0.0833, with n = 5 it is 2/120.
    expect(trend([0, 30, 60, 90], [1, 2, 3, 4])).toMatchObject({ slope_per_90_days: null, slope_low: null, p: null, direction: 'too few inspections', crossing: 'too few inspections', control: null });
    const five = trend([0, 30, 60, 90, 120], [1, 1.2, 1.4, 1.6, 1.8]);
    expect(five.p).toBeCloseTo(2 / 120, 12);
    expect(five).toMatchObject({ direction: 'rising', slope_low: null, slope_high: null });
    expect(five.slope_per_90_days).toBeCloseTo(0.6, 12);
    expect(trend([], [], null)).toMatchObject({ direction: 'too few inspections', crossing: 'too few inspections' });
  });

  it('may fall, or never move', () => {
    expect(trend([0, 30, 60, 90, 120], [2, 1.8, 1.6, 1.4, 1.2])).toMatchObject({ direction: 'falling', crossing: 'no rise shown', crosses_on: null });
    expect(trend([0, 30, 60, 90, 120, 150], [2, 2, 2, 2, 2, 2])).toMatchObject({ slope_per_90_days: 0, p: 1, direction: 'steady', crossing: 'no rise shown', control: { signals: ['never moved'] } });
  });
});

describe('the day on which a loss reaches its limit', () => {
  // LeBlond, Griffith and Aubuchon, J. Validation Technology 17(3) (2011) 47-68, three batches of (month, value): the lower
  // bound of their pooled line meets 95 at month 25.9957631931 (printed 26), and 94.95 at 26.2240976794. Turned upside down
  // (200 less the value) the upper bound meets 105; a month is 100 days here. All values of one month are kept.
  const BATCHES = '0,101.0 1,101.3 3,99.8 3,99.2 6,99.5 6,97.8 12,97.4 12,97.2 24,96.9 24,96.0 0,102.0 1,101.4 2,100.8 3,100.2 3,99.7 6,98.8 6,98.5 12,98.0 12,97.1 24,96.6 24,96.1 0,101.3 1,101.5 3,100.2 3,99.8 6,99.0 6,98.5 12,98.5 12,97.4 24,96.6 24,96.4';
  const points = BATCHES.split(' ').map((point) => point.split(',').map(Number) as [number, number]).sort(([a], [b]) => a - b);
  const pooled = (limit: number) => trend(points.map(([month]) => 100 * month), points.map(([, value]) => 200 - value), limit);

  it('is the day of the confidence bound', () => {
    expect(points.length).toBe(31);
    expect(pooled(105)).toMatchObject({ direction: 'rising', crossing: 'on the day shown', crosses_on: after(2599) });
    expect(pooled(105.05)).toMatchObject({ crossing: 'on the day shown', crosses_on: after(2622) });
    expect(pooled(104)).toMatchObject({ crossing: 'already reached', crosses_on: null });
  });

  it('is that of the line itself where all losses lie on it', () => {
    // By hand: 1 psi/min and 0.1 more every 30 days reaches 3 after 20 times 30 days.
    expect(trend([0, 30, 60, 90, 120, 150], [1, 1.1, 1.2, 1.3, 1.4, 1.5])).toMatchObject({ crossing: 'on the day shown', crosses_on: after(600) });
    expect(trend([0, 30, 60, 90, 120, 150], [2.6, 2.7, 2.8, 2.9, 3, 3.1])).toMatchObject({ direction: 'rising', crossing: 'already reached', crosses_on: null });
  });

  it('is not told beyond ten years', () => {
    // By hand: 0.01 more every 30 days reaches 3 after 200 times 30 days, 16 years; from 1.79 after 3630 days, less than ten years after the last of them.
    expect(trend([0, 30, 60, 90, 120, 150], [1, 1.01, 1.02, 1.03, 1.04, 1.05])).toMatchObject({ direction: 'rising', crossing: 'beyond 10 years', crosses_on: null });
    expect(trend([0, 30, 60, 90, 120, 150], [1.79, 1.8, 1.81, 1.82, 1.83, 1.84])).toMatchObject({ crossing: 'on the day shown', crosses_on: after(3630) });
  });
});
