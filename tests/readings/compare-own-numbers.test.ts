import { expect, test } from 'vitest';
import { compareReadings } from '../../src/workbook/compare-readings.js';

test('keyers who number the rows themselves: a skipped row does not pair every paper with the next', async () => {
  const papers = Array.from({ length: 8 }, (_, index) => `T${index + 1},2026-03-${10 + index},${110 + index},1:00`);
  const keyed = (rows: readonly string[]): Uint8Array => {
    const lines = rows.map((row, index) => `${index + 1},${row}`);
    return new TextEncoder().encode(['inspection_id,unit,inspected_on,released_primary_start,released_time', ...lines].join('\n'));
  };
  const { missing, extra, differences } = await compareReadings(keyed(papers), keyed(papers.filter((_, index) => index !== 2)));
  expect([missing.length, extra.length]).toStrictEqual([1, 0]);
  expect([...new Set(differences.map(({ column }) => column))]).toStrictEqual(['inspection_id']);
});
