import { describe, expect, test } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';

const read = async (...lines: string[]): ReturnType<typeof evaluateReadings> => evaluateReadings(new TextEncoder().encode(lines.join('\n')), { format: 'csv' });

describe('both needles in one cell, below a header that names no circuit', () => {
  test('become the readings of the two circuits', async () => {
    const fleet = await read('Unit,Date,Released start,Released end,Released min,Weather', 'T1,2026-03-14,115/112,113 & 110 psi,1,rain', 'T2,2026-03-14,7.9/7.7 bar,109,1,sun');
    const value = (row: number, field: string): unknown => fleet.evaluations[row]!.inspection.values[fleet.plan.dictionary.position.get(field)!] ?? null;
    expect(['released_primary_start', 'released_secondary_start', 'released_primary_end', 'released_secondary_end', 'released_time'].map((field) => value(0, field))).toStrictEqual([115, 112, 113, 110, 60]);
    // 1 bar = 14.503 773 773 psi, NIST SP 811 Appendix B.
    expect(value(1, 'released_primary_start')).toBeCloseTo(7.9 * 14.503773773, 6);
    expect(value(1, 'released_secondary_start')).toBeCloseTo(7.7 * 14.503773773, 6);
    expect([value(1, 'released_primary_end'), value(1, 'released_secondary_end')]).toStrictEqual([109, null]);
    expect(fleet.problems).toStrictEqual([]);
    expect(fleet.notes).toHaveLength(2);
    expect(fleet.evaluations.map(({ inspection }) => inspection.extra)).toStrictEqual([['rain'], ['sun']]);
  });

  test('a problem names the cell of the file', async () => {
    const fleet = await read('Unit,Released start,Released end,Date', 'T1,115/11O,113/110,2026-03-14');
    expect(fleet.problems.map(({ code, cell, found }) => [code, cell, found])).toStrictEqual([['not_understood', 'B2', '115/11O']]);
  });

  test('a column of the office\'s own in a table that the program wrote is not split', async () => {
    const fleet = await read('unit,inspected_on,Released start,computed.verdict', 'T1,2026-03-14,115/112,pass');
    expect(fleet.evaluations[0]!.inspection.extra).toStrictEqual(['115/112']);
  });

  test('a column that names its circuit still takes one needle only', async () => {
    const fleet = await read('Unit,Date,Released primary start', 'T1,2026-03-14,115/112');
    expect(fleet.problems.map(({ code, cell }) => [code, cell])).toStrictEqual([['not_understood', 'C2']]);
  });
});
