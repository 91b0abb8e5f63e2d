import { describe, expect, it } from 'vitest';
import { aroundRepair, isBeforeRepair, lastEffectiveRepair, tookEffect } from '../../src/fleet/repairs.js';
import { reading, record } from './unit-records.js';

describe('before and after a repair', () => {
  it.each([['2026-03-09', false, true], ['2026-03-09', true, true], ['2026-03-10', false, true], ['2026-03-10', true, false], ['2026-03-11', false, false]])('an inspection of %s, a retest: %s', (on, isRetest, before) => {
    expect(isBeforeRepair({ on, isRetest }, '2026-03-10')).toBe(before);
  });

  const share = (on: string, leakShare: number | null, isRetest = false) => record(on, { leakShare, isRetest });
  const around = (repair: string, ...records: ReturnType<typeof share>[]) => aroundRepair(records, repair, ({ leakShare }) => leakShare);

  it('are the last and the first that have what is looked for', () => {
    const records = [share('2026-01-01', 0.5), share('2026-02-01', 1.5), share('2026-02-20', null), share('2026-03-05', null), share('2026-04-01', 0.3), share('2026-05-01', 0.4)];
    expect(around('2026-03-01', ...records)).toStrictEqual({ before: 1.5, after: 0.3 });
    expect(around('2026-02-01', ...records)).toStrictEqual({ before: 1.5, after: 0.3 });
  });

  it('may both be of the day itself, whichever stands first in the table', () => {
    expect(around('2026-03-10', share('2026-03-10', 1.5), share('2026-03-10', 0.2, true))).toStrictEqual({ before: 1.5, after: 0.2 });
    expect(around('2026-03-10', share('2026-03-10', 0.2, true), share('2026-03-10', 1.5))).toStrictEqual({ before: 1.5, after: 0.2 });
  });

  it('are null before the first inspection, after the last, and without any', () => {
    expect(around('2025-12-31', share('2026-01-01', 0.5))).toStrictEqual({ before: null, after: 0.5 });
    expect(around('2026-01-02', share('2026-01-01', 0.5))).toStrictEqual({ before: 0.5, after: null });
    expect(around('2026-01-02')).toStrictEqual({ before: null, after: null });
  });
});

describe('a repair that took effect', () => {
  it('lowers the loss by more than the gauge explains', () => {
    // Told apart to 1 psi over 1 min: u = 1/sqrt(6) = 0.408248 each (JCGM 100:2008, F.2.2.1), together 0.577350, times 1.645: 0.949741.
    const u = 1 / Math.sqrt(6);
    expect(tookEffect(reading(2, { uncertainty: u }), reading(1.04, { uncertainty: u }))).toBe(true);
    expect(tookEffect(reading(2, { uncertainty: u }), reading(1.06, { uncertainty: u }))).toBe(false);
    expect(tookEffect(reading(1, { uncertainty: u }), reading(2, { uncertainty: u }))).toBe(false);
    expect(tookEffect(reading(2, { uncertainty: 0 }), reading(2, { uncertainty: 0 }))).toBe(false);
  });

  it('lowers it by a tenth of the limit or more where a gauge is not known, and at all without a limit', () => {
    // A tenth of 3 psi/min is 0.3; in floating point 0.7 - 0.4 is 0.29999999999999993.
    expect(tookEffect(reading(0.7), reading(0.4))).toBe(true);
    expect(tookEffect(reading(0.7), reading(0.41))).toBe(false);
    expect(tookEffect(reading(0.7, { uncertainty: 1 }), reading(0.4))).toBe(true);
    expect(tookEffect(reading(0.7, { limit: null }), reading(0.69, { limit: null }))).toBe(true);
    expect(tookEffect(reading(0.7, { limit: null }), reading(0.7, { limit: null }))).toBe(false);
  });

  it('is the latest of several that did', () => {
    const of = (on: string, value: number, isRetest = false) => record(on, { isRetest, losses: [reading(value)] });
    const records = [of('2026-01-01', 4), of('2026-01-20', 1), of('2026-02-01', 2.8), record('2026-02-11'), of('2026-03-01', 0.9), of('2026-04-01', 0.8), of('2026-05-01', 0.9)];
    expect(lastEffectiveRepair(records, ['2025-12-01', '2026-01-10', '2026-02-10', '2026-02-11', '2026-03-15', '2026-06-01'], 0)).toBe('2026-02-11');
    expect(lastEffectiveRepair(records, ['2025-12-01', '2026-01-10', '2026-03-15'], 0)).toBe('2026-01-10');
    expect(lastEffectiveRepair(records, ['2025-12-01', '2026-06-01'], 0)).toBeNull();
    expect(lastEffectiveRepair(records, [], 0)).toBeNull();
    expect(lastEffectiveRepair([], ['2026-01-10'], 0)).toBeNull();
  });
});
