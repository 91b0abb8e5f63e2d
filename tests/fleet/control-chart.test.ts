import { describe, expect, it } from 'vitest';
import { controlChart } from '../../src/fleet/control-chart.js';

describe('a control chart of losses', () => {
  it('has the limits of the handbook', () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: mean 50.81, limits 55.8041 and 45.8159.
    const chart = controlChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])!;
    expect(chart.centre).toBeCloseTo(50.81, 9);
    expect(chart.upper).toBeCloseTo(55.8041, 4);
    expect(chart.lower).toBeCloseTo(45.8159, 4);
    // By hand: (49.6 + 47.6 + 49.9 + 51.3) / 4; five times the handbook's mean moving range of 1.8778 by 1.128.
    expect(chart.cusum_target).toBeCloseTo(49.6, 9);
    expect(chart.cusum_limit).toBeCloseTo((5 * 1.8777777778) / 1.128, 8);
  });

  it('sums what lies beyond half a sigma of the first four', () => {
    // By hand: moving ranges 1 1 1 2 1 1 1, mean 8/7, sigma 8/7/1.128 = 1.013171, half of it 0.506586, five of it 5.065856.
    // Target (1+2+1+2)/4 = 1.5. High: 2-1.5-0.506586 < 0, so 0 up to the fourth; then each value less 2.006586 is added.
    const chart = controlChart([1, 2, 1, 2, 4, 5, 6, 7])!;
    expect(chart).toMatchObject({ centre: 3.5, cusum_target: 1.5, lower: expect.closeTo(0.460486, 6) as number, upper: expect.closeTo(6.539514, 6) as number, cusum_limit: expect.closeTo(5.065856, 6) as number });
    const high = [0, 0, 0, 0, 1.993414, 4.986829, 8.980243, 13.973658];
    chart.cusum_high.forEach((sum, index) => expect(sum).toBeCloseTo(high[index]!, 5));
    expect(chart.cusum_low).toStrictEqual([0, 0, 0, 0, 0, 0, 0, 0]);
    expect(chart.signals).toStrictEqual(['one reading far above its own', 'drifting up']);
  });

  it('tells of the latest loss only', () => {
    // The same and then back at 1.5: not above its upper limit, but the sum stays high.
    expect(controlChart([1, 2, 1, 2, 4, 5, 6, 7, 1.5])!.signals).toStrictEqual(['drifting up']);
    // By hand: target 8, moving ranges 0 0 0 3 1 1 1, mean 6/7, sigma 0.759878, k 0.379939, h 3.799392: low 2.620061, 6.240122, ...
    expect(controlChart([8, 8, 8, 8, 5, 4, 3, 2])!.signals).toStrictEqual(['drifting down']);
    expect(controlChart([1, 2, 1, 2, 1, 2])!.signals).toStrictEqual(['none']);
  });

  it('takes a loss exactly on its limit as inside', () => {
    // By hand: mean (2 * 1.02 + 8.328) / 6 = 1.728; moving ranges 4 * 1.02 + 8.328 = 12.408, by 5 * 1.128: sigma 2.2; upper 1.728 + 6.6 = 8.328.
    const chart = controlChart([0, 1.02, 0, 1.02, 0, 8.328])!;
    expect(chart.upper).toBeCloseTo(8.328, 12);
    expect(chart).toMatchObject({ lower: 0, signals: ['none'] });
    expect(controlChart([0, 1.02, 0, 1.02, 0, 8.33])!.signals).toStrictEqual(['one reading far above its own']);
  });

  it('has no limits where the loss never moved', () => {
    expect(controlChart([2, 2, 2, 2, 2, 2])).toStrictEqual({ centre: 2, upper: null, lower: null, cusum_target: 2, cusum_limit: null, cusum_high: [0, 0, 0, 0, 0, 0], cusum_low: [0, 0, 0, 0, 0, 0], signals: ['never moved'] });
  });

  it('needs six losses', () => {
    expect(controlChart([1, 2, 3, 4, 5])).toBeNull();
    expect(controlChart([])).toBeNull();
  });

  it('has a lower limit below 0 only where a loss is', () => {
    expect(controlChart([-1, 1, -1, 1, -1, 1])!.lower).toBeCloseTo((-3 * 2) / 1.128, 9);
  });
});
