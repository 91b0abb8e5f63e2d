import { describe, expect, test } from 'vitest';
import { inspectionKey } from '../../src/readings/long-form-keys.js';
import type { RawCell } from '../../src/util/raw-table.js';

const onDay = (date: RawCell, date1904 = false): string => inspectionKey([null, date, '101'], date1904);

describe('inspectionKey', () => {
  test('is the same whatever the case and however the date is written', () => {
    expect(inspectionKey(['A-1', '2026-03-14', 'T 7'], false)).toBe(inspectionKey(['a-1', '14 Mar 2026', 't  7'], false));
    expect(inspectionKey(['A-1', '2026-03-14', 'T 7'], false)).not.toBe(inspectionKey(['A-2', '2026-03-14', 'T 7'], false));
    expect(inspectionKey(['A-1', '2026-03-14', 'T 7'], false)).not.toBe(inspectionKey(['A-1', '2026-03-14', 'T 8'], false));
    expect(onDay('2026-03-14')).not.toBe(onDay('2026-03-15'));
  });

  test('counts days as the workbook does', () => {
    // Day 46095 since 1900 is 2026-03-14; since 1904 it is 1462 days later (ECMA-376, 18.17.4.1).
    const day = { value: 46095, format: 'yyyy-mm-dd' };
    expect(onDay(day)).toBe(onDay('2026-03-14'));
    expect(onDay(day, true)).toBe(onDay('2030-03-15', true));
  });

  test('of a date that is none takes the words', () => {
    expect(onDay('Spring')).toBe(onDay('spring'));
    expect(onDay('spring')).not.toBe(onDay('autumn'));
    expect(onDay('n/a')).not.toBe(onDay('unknown'));
  });
});
