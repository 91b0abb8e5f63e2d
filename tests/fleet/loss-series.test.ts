import { describe, expect, it } from 'vitest';
import { lossSeries } from '../../src/fleet/loss-series.js';
import { reading, record } from './unit-records.js';

const of = (on: string, value: number, limit: number | null = 3, isRetest = false) => record(on, { isRetest, losses: [reading(value, { limit })] });

describe('the course of a loss', () => {
  it('has one value for each day, the median of several', () => {
    const records = [of('2026-01-01', 1), of('2026-01-01', 4), of('2026-01-01', 2), record('2026-01-15'), of('2026-02-01', 1, 3), of('2026-02-01', 2, 5)];
    expect(lossSeries(records, 0, null)).toStrictEqual({ dates: ['2026-01-01', '2026-02-01'], losses: [2, 1.5], limit: 5 });
  });

  it('begins with the retest on the day of the repair', () => {
    const records = [of('2026-01-01', 4), of('2026-02-01', 5), of('2026-02-01', 1, 3, true), of('2026-03-01', 2)];
    expect(lossSeries(records, 0, '2026-02-01')).toStrictEqual({ dates: ['2026-02-01', '2026-03-01'], losses: [1, 2], limit: 3 });
  });

  it('is empty where nothing was decided', () => {
    expect(lossSeries([record('2026-01-01')], 0, null)).toStrictEqual({ dates: [], losses: [], limit: null });
  });

  it('has no limit where the latest inspection has none', () => {
    expect(lossSeries([of('2026-01-01', 1, 3), of('2026-02-01', 2, null)], 0, null).limit).toBeNull();
  });

  it('holds the latest thousand days', () => {
    const records = Array.from({ length: 1200 }, (_, index) => of(`${2000 + Math.floor(index / 12)}-${String((index % 12) + 1).padStart(2, '0')}-01`, index));
    const { dates, losses } = lossSeries(records, 0, null);
    expect([dates.length, losses.length, losses[0], losses.at(-1)]).toStrictEqual([1000, 1000, 200, 1199]);
  });
});
