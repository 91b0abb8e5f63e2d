import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { FINDING_CODES, FINDINGS, verificationSchema, type Finding } from '../../src/workbook/verify-finding.js';
import { verificationLines } from '../../src/cli/verify-command.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { sha256 } from '../../src/util/sha256.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { withSheetChanged } from '../workbook/workbook-parts.js';
import { runInside } from './run-inside.js';

const CSV = 'inspection_id,inspected_on,unit,released_primary_start,released_primary_end,released_time\nA-1,2026-03-14,K-1,104,102,1:00\nA-2,2026-03-15,K-2,104,98,1:00\n';
const folder = mkdtempSync(join(tmpdir(), 'treadlebook-'));
const [clean, changed] = [join(folder, 'clean.xlsx'), join(folder, 'changed.xlsx')];
let bytes: Uint8Array;
/** A cell of the sheet Limits with a fact on which the arithmetic rests. */
let fact: string;

beforeAll(async () => {
  bytes = await bytesOf(workbookOf(await evaluateReadings(Buffer.from(CSV), { name: 'fleet.csv' })));
  writeFileSync(clean, bytes);
  const [, place] = [...(await openXlsx(bytes)).definedNames].find(([name]) => name.startsWith('fact_'))!;
  fact = /!\$E\$\d+$/.exec(place)![0].replace(/[!$]/g, '');
  const once = await withSheetChanged(bytes, 'Readings', (xml) => xml.replace(/(<c r="A5"[^>]*>(?:<f[^>]*\/>|<f.*?<\/f>)<v>)fail/, '$1pass'));
  writeFileSync(changed, await withSheetChanged(once, 'Limits', (xml) => xml.replace(new RegExp(`(<c r="${fact}"[^>]*><v>)[^<]*`), '$10.5')));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('treadlebook verify', () => {
  it('says that nothing was found, and exits with 0', async () => {
    const { code, out, err } = await runInside(['verify', clean]);
    expect([code, err]).toStrictEqual([0, '']);
    expect(out).toMatch(/^clean\.xlsx: nothing was found\. \d+ formulas and \d+ values compared, against common-practice\.\n$/);
  });

  it('names what was found by code, and exits with 1', async () => {
    const { code, out, err } = await runInside(['verify', changed]);
    expect([code, err]).toStrictEqual([1, '']);
    expect(out).toContain(`\nstored_value_differs: ${FINDINGS.stored_value_differs}.\n  Readings!A5 (computed.verdict): found pass; expected fail\n`);
    expect(out).toMatch(new RegExp(`\\nfact_changed: .*\\n {2}Limits!${fact} \\(fact_\\w+\\): found 0\\.5; expected [\\d.]+ \\[.+\\]\\n`));
  });

  it('prints one JSON object with --json, also when quiet', async () => {
    const { code, out } = await runInside(['verify', clean, '--json', '--quiet']);
    const verification = verificationSchema.parse(JSON.parse(out));
    expect(code).toBe(0);
    expect(verification).toMatchObject({ format: 'treadlebook-verification', version: 1, book: { name: 'clean.xlsx', sha256: sha256(bytes) }, limit_set: { id: 'common-practice' }, findings: [] });
    const { code: found, out: json } = await runInside(['verify', changed, '--json']);
    expect(found).toBe(1);
    expect(verificationSchema.parse(JSON.parse(json)).findings.map(({ code: name }) => name)).toContain('stored_value_differs');
  });

  it('prints nothing when quiet', async () => {
    expect(await runInside(['verify', changed, '-q'])).toStrictEqual({ code: 1, out: '', err: '' });
  });

  it.each([
    [['verify'], 2, 'the workbook is missing'],
    [['verify', 'a.xlsx', 'b.xlsx'], 2, 'a word too many'],
    [['verify', 'a.xlsx', '--limit', 'x'], 2, 'did you mean --limits?'],
    [['verify', 'none.xlsx'], 3, 'there is no such file'],
    [['verify', 'samples/invented-fleet.csv'], 3, 'not a workbook'],
    [['verify', 'samples'], 3, 'this is a folder'],
  ])('%j exits with %i in one line', async (args, code, words) => {
    const { code: exit, out, err } = await runInside(args);
    expect([exit, out]).toStrictEqual([code, '']);
    expect(err).toMatch(/^treadlebook: .*\n$/);
    expect(err).toContain(words);
  });

  it('refuses an unknown limit set', async () => {
    const { code, err } = await runInside(['verify', clean, '--limits', 'us-nevda']);
    expect(code).toBe(2);
    expect(err).toContain('did you mean us-nevada?');
  });

  it('holds the workbook against another set when it is told to', async () => {
    const { code, out } = await runInside(['verify', clean, '--limits', 'us-nevada']);
    expect(code).toBe(1);
    expect(out).toContain('\nlimit_set_other: ');
  });
});

describe('the lines of a verification', () => {
  const finding: Finding = { code: 'stored_value_differs', sheet: 'Readings', cell: 'A5', column: '', found: 'pass', expected: 'fail', citation: null };
  const lines = (findings: readonly Finding[]): string[] => verificationLines({ format: 'treadlebook-verification', version: 1, book: { name: 'b.xlsx', sha256: '' }, limit_set: { id: 's', title: '', sha256: '' }, cells_compared: 2, formulas_compared: 1, findings: [...findings] }, FINDINGS);

  it('show the first 20 of a code and count the rest', () => {
    const shown = lines([...Array.from({ length: 25 }, () => finding), { ...finding, code: 'hidden_sheet', cell: '' }]);
    expect(shown[0]).toBe('b.xlsx: 26 findings. 1 formulas and 2 values compared, against s.');
    expect(shown.filter((line) => line === '  Readings!A5: found pass; expected fail')).toHaveLength(20);
    expect(shown).toContain('  and 5 more; --json lists them all');
    expect(shown.at(-1)).toBe('  Readings: found pass; expected fail');
  });

  it('show of a long formula the part around what differs, and no control characters', () => {
    const long = (middle: string): string => `=${'A1+'.repeat(200)}${middle}${'+B1'.repeat(200)}`;
    const line = lines([{ ...finding, found: long('9\u001b[2J'), expected: long('8') }]).at(-1)!;
    expect(line).toMatch(/found ….*A1\+9 \[2J\+B1.*…; expected ….*A1\+8\+B1.*…$/);
    expect(line.length).toBeLessThan(260);
  });

  it('know a meaning for every code', () => {
    expect(FINDING_CODES.filter((code) => !/^[A-Z].{10,}[^.]$/.test(FINDINGS[code]))).toStrictEqual([]);
  });
});
