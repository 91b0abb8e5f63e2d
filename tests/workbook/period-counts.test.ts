import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isCounted, periodCounts } from '../../src/workbook/period-counts.js';

const on = (...dates: (string | null)[]): { inspected_on: string | null }[] => dates.map((inspected_on) => ({ inspected_on }));

describe('inspections by where their date lies', () => {
  const table = on('2026-01-31', '2026-02-01', '2026-02-28', null, '2026-03-01', null);

  it.each([
    [{ from: '2026-02-01', to: '2026-02-28' }, { inside: 2, before: 1, after: 1, undated: 2 }],
    [{ from: '2026-02-01', to: null }, { inside: 3, before: 1, after: 0, undated: 2 }],
    [{ from: null, to: '2026-01-31' }, { inside: 1, before: 0, after: 3, undated: 2 }],
    [{ from: null, to: null }, { inside: 4, before: 0, after: 0, undated: 2 }],
    [{ from: '2027-01-01', to: null }, { inside: 0, before: 4, after: 0, undated: 2 }],
  ])('%j', (period, counts) => {
    expect(periodCounts(table, period)).toStrictEqual({ ...counts, first: '2026-01-31', last: '2026-03-01' });
  });

  it('have no first and no last date where none has one', () => {
    expect(periodCounts(on(null, null), { from: '2026-01-01', to: null })).toStrictEqual({ inside: 0, before: 0, after: 0, undated: 2, first: null, last: null });
    expect(periodCounts([], { from: null, to: null })).toStrictEqual({ inside: 0, before: 0, after: 0, undated: 0, first: null, last: null });
  });

  it('add up to all, whatever the dates and the period', () => {
    const day = fc.option(fc.date({ min: new Date('2020-01-01'), max: new Date('2021-01-01'), noInvalidDate: true }).map((date) => date.toISOString().slice(0, 10)));
    fc.assert(
      fc.property(fc.array(day), day, day, (dates, from, to) => {
        const evaluations = on(...dates);
        const { inside, before, after, undated } = periodCounts(evaluations, { from, to });
        expect(inside + before + after + undated).toBe(dates.length);
        const counted = evaluations.filter((evaluation) => isCounted(evaluation, { from, to })).length;
        if (from === null || to === null || from <= to) expect(counted).toBe(from === null && to === null ? inside + undated : inside);
      }),
    );
  });
});
