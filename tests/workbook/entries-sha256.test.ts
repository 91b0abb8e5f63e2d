import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { EntriesSha256 } from '../../src/workbook/entries-sha256.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';

const HEADER = 'inspection_id,inspected_on,unit,released_primary_start,released_primary_end,released_time,Weather';
const ROWS = ['A-1,2026-03-14,K-1,104,102,1:00,north', 'A-2,2026-03-15,K-2,~104,98.5,60 s,', 'A-3,2026-03-16,K-1,8 bar,lots,1:00,south'];

async function hashOf(csv: string, name = 'f.csv'): Promise<string> {
  const { plan, columns, evaluations } = await evaluateReadings(Buffer.from(csv), { name });
  const entries = new EntriesSha256(plan.dictionary, columns.flatMap(({ role, header }) => (role === 'extra' ? [header] : [])));
  for (const { inspection } of evaluations) entries.add(inspection);
  return entries.result();
}

describe('the SHA-256 of the entries', () => {
  it('is that of the hashes of the rows in order, one a line (FIPS 180-4 by Node itself)', async () => {
    const sha = (text: string): string => createHash('sha256').update(text).digest('hex');
    const row = sha('[[["inspected_on","value","2026-03-14"],["released_primary_start","found","~104"],["unit","value","K-1"]],[["Weather","north"]]]');
    expect(await hashOf('inspected_on,unit,Weather,released_primary_start\n2026-03-14,K-1,north,~104\n')).toBe(sha(row));
    const twice = [row, sha('[[["inspected_on","value","2026-03-15"],["unit","value","K-1"]],[]]')].sort();
    expect(await hashOf('inspected_on,unit,Weather,released_primary_start\n2026-03-14,K-1,north,~104\n2026-03-15,K-1,,\n')).toBe(sha(twice.join('\n')));
  });

  it('is the same whatever the order of rows and of columns', async () => {
    const right = await hashOf([HEADER, ...ROWS].join('\n'));
    expect(await hashOf([HEADER, ...[...ROWS].reverse()].join('\n'))).toBe(right);
    const swapped = [HEADER, ...ROWS].map((line) => line.split(',').reverse().join(','));
    expect(await hashOf(swapped.join('\n'))).toBe(right);
  });

  it('is the same where a number has lost the digits beyond the fifteenth', async () => {
    const number = (text: string): string => `inspected_on,unit,odometer,gauge_step\n2026-03-14,K-1,1,${text}\n`;
    const json = (value: number): string => JSON.stringify([{ inspected_on: '2026-03-14', unit: 'K-1', gauge_step: value }]);
    expect(await hashOf(json(0.14503773773020923), 'f.json')).toBe(await hashOf(json(0.145037737730209), 'f.json'));
    expect(await hashOf(number('0.1'))).not.toBe(await hashOf(number('0.1001')));
  });

  it.each([
    ['a reading', 'K-1,104,102', 'K-1,104,103'],
    ['a text as found', '~104', '104'],
    ['a text that was not understood', 'lots', 'more'],
    ['a unit', 'K-2', 'K-3'],
    ['a column of the user', 'north', 'North'],
    ['the header of a column of the user', 'Weather', 'Sky'],
    ['a row more', '1:00,south', '1:00,south\nA-4,2026-03-17,K-9,,,,'],
    ['a row less', `\n${ROWS[2]}`, ''],
  ])('changes with %s', async (_what, from, to) => {
    const csv = [HEADER, ...ROWS].join('\n');
    expect(csv).toContain(from);
    expect(await hashOf(csv.replace(from, to))).not.toBe(await hashOf(csv));
  });
});
