import { writeFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { capsOption } from '../../src/cli/caps-option.js';
import { runInside } from './run-inside.js';

const folder = mkdtempSync(join(tmpdir(), 'treadlebook-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('--caps', () => {
  it('is a list of names and numbers', () => {
    expect(capsOption('evaluate', undefined)).toBeUndefined();
    expect(capsOption('evaluate', 'xlsx.rows=2000000, csv.columns=50,xlsx.stallSeconds=0.5')).toStrictEqual({ xlsx: { rows: 2_000_000, stallSeconds: 0.5 }, csv: { columns: 50 } });
  });

  it.each([
    ['xlsx.row=5', 'treadlebook: cap xlsx.row: there is no such cap; did you mean xlsx.rows?\n'],
    ['rows=5', /^treadlebook: cap rows: there is no such cap; /],
    ['__proto__.x=5', /^treadlebook: cap __proto__\.x: there is no such cap; /],
    ['csv.columns', 'treadlebook: evaluate: the cap csv.columns has no number above zero; write csv.columns=1000\n'],
    ['csv.columns=0', /has no number above zero/],
    ['csv.columns=-5', /has no number above zero/],
    ['csv.columns=1e3', /has no number above zero/],
  ])('%s is refused', async (caps, err) => {
    expect(await runInside(['evaluate', 'fleet.csv', '--caps', caps])).toStrictEqual({ code: 2, out: '', err: typeof err === 'string' ? err : (expect.stringMatching(err) as string) });
  });

  it('holds for every command that reads a table', async () => {
    const path = join(folder, 'fleet.csv');
    writeFileSync(path, 'unit,inspected_on,cut_in\nK-1,2026-03-01,99\n');
    for (const args of [['evaluate', path], ['compare', path, path], ['report', path, '--unit', 'K-1', '--date', '2026-03-01', '-o', join(folder, 'report.xlsx')]]) {
      expect(await runInside([...args, '--caps', 'csv.columns=2'])).toMatchObject({ code: 3, err: expect.stringContaining('the record has more than 2 columns') as string });
    }
    expect(await runInside(['verify', path, '--caps', 'xlsx.fileBytes=10'])).toMatchObject({ code: 3, err: expect.stringContaining('the file holds more than 10 bytes; if you trust the file, raise the cap xlsx.fileBytes above 10') as string });
  });
});
