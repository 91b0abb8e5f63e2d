import { describe, expect, it } from 'vitest';
import { SeenInspections } from '../../src/workbook/seen-inspections.js';

const inspection = (inspection_id: string | null, unit: string | null, inspected_on: string | null) => ({ inspection_id, unit, inspected_on });

describe('inspections that stand in two tables', () => {
  const seen = new SeenInspections();
  seen.add(inspection('A-1', 'T-7', '2026-03-01'));
  seen.add(inspection(null, 'T-8', '2026-03-02'));
  seen.add(inspection(null, null, '2026-03-03'));
  seen.add(inspection('B-1', null, null));
  seen.add(inspection(null, '__proto__', '2026-03-04'));

  it.each([
    ['the same identifier and unit, in other letters, on a corrected date', inspection('a-1', 't-7', '2026-03-09'), true],
    ['the same number of another unit: a table numbered from 1 again', inspection('A-1', 'T-9', '2026-03-01'), false],
    ['another inspection of the unit on that day', inspection('A-2', 'T-7', '2026-03-01'), false],
    ['no identifier, the same unit and date', inspection(null, 'T-7', '2026-03-01'), true],
    ['an identifier on one side alone, the same unit and date', inspection('X-1', 'T-8', '2026-03-02'), true],
    ['another date', inspection(null, 'T-8', '2026-03-03'), false],
    ['no unit', inspection(null, null, '2026-03-03'), false],
    ['an identifier without a unit', inspection('B-1', null, null), true],
    ['a unit named like a property', inspection(null, '__PROTO__', '2026-03-04'), true],
    ['nothing that tells', inspection(null, null, null), false],
  ])('%s', (_, other, expected) => {
    expect(seen.has(other)).toBe(expected);
  });

  it('are matched by what spellings of a unit have in common, where units are folded', () => {
    const folded = new SeenInspections('folded');
    folded.add(inspection(null, 'T-07', '2026-03-01'));
    expect(folded.has(inspection(null, 't 7', '2026-03-01'))).toBe(true);
    expect(seen.has(inspection(null, 't 8', '2026-03-02'))).toBe(false);
  });
});
