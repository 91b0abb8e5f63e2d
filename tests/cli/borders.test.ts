import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { runInside } from './run-inside.js';

let folder: string;
beforeEach(() => void (folder = mkdtempSync(join(tmpdir(), 'borders-'))));
afterEach(() => rmSync(folder, { recursive: true }));

const path = (name: string): string => join(folder, name);
const FLEET = 'inspected_on,unit,vehicles,released_primary_start,released_primary_end,released_time\n2026-03-14,K-1,3,110,106,1:00\n';

it('evaluate holds a fleet against several sets, parted by commas', async () => {
  writeFileSync(path('fleet.csv'), FLEET);
  const { code, out, err } = await runInside(['evaluate', path('fleet.csv'), '--limits', 'us-nevada,us-new-hampshire', '--json', '-o', path('fleet.xlsx')]);
  expect(code).toBe(0);
  expect(err).toContain('1 inspection against us-nevada,us-new-hampshire: 0 pass, 1 fail');
  // NAC 484D.110(2)(b): 5 psi for three vehicles; Saf-C 3226.04(b)(8): 3 psi for a combination
  const { inspections } = JSON.parse(out) as { inspections: { borders: { disagreement: string } }[] };
  expect(inspections[0]!.borders.disagreement).toBe('Passes in Nevada, fails in New Hampshire: released loss 4 psi/min.');
  expect((await openXlsx(new Uint8Array(readFileSync(path('fleet.xlsx'))))).sheets.map(({ name }) => name)).toContain('Borders');
});

it('blank writes a workbook for several sets, and a set that is unknown is named', async () => {
  expect((await runInside(['blank', '--limits', 'us-nevada,ca-ontario', '-o', path('entry.xlsx'), '--rows', '3'])).code).toBe(0);
  expect(await runInside(['blank', '--limits', 'us-nevada,us-nevda', '-o', path('entry.csv')])).toStrictEqual({ code: 2, out: '', err: 'treadlebook: there is no limit set "us-nevda"; did you mean us-nevada? `treadlebook limits` lists the sets; a file of your own ends in .json\n' });
});

it('never writes over one of several limit-set files', async () => {
  writeFileSync(path('fleet.csv'), FLEET);
  writeFileSync(path('ours.json'), '{}');
  const { code, err } = await runInside(['evaluate', path('fleet.csv'), '--limits', `us-nevada,${path('ours.json')}`, '-o', path('ours.json'), '--force']);
  expect([code, err]).toStrictEqual([4, `treadlebook: ${path('ours.json')}: this file is read, and what is read is never overwritten; name another file\n`]);
});
