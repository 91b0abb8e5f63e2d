import { describe, expect, it } from 'vitest';
import { inOrder } from '../../src/fleet/unit-record.js';

describe('the order of inspections', () => {
  it('is by date, then by row', () => {
    const all = [{ on: '2026-03-02', row: 2 }, { on: '2026-03-01', row: 9 }, { on: '2026-03-01', row: 3 }, { on: '2025-12-31', row: 10 }];
    expect(all.sort(inOrder).map(({ row }) => row)).toStrictEqual([10, 3, 9, 2]);
  });
});
