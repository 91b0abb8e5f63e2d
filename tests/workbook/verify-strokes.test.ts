import { beforeAll, describe, expect, it } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import type { Finding } from '../../src/workbook/verify-finding.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { makeZip } from '../formats/make-xlsx.js';
import { bytesOf } from './bytes-of.js';
import { EVERY_ROW, READINGS, strokesCsv, type StrokeRow } from './stroke-rows.js';
import { strokesFindings } from './strokes-findings.js';
import { rowsOfSheet } from './sheet-tables.js';
import { withSheetChanged, workbookParts } from './workbook-parts.js';

const ROWS: readonly StrokeRow[] = [
  { unit: 'K-1', inspected_on: '2026-03-14', position: '1L', chamber_size: '30', stroke: '2.25', Weather: 'dry' },
  { unit: 'K-1', inspected_on: '2026-03-14', position: '1R', chamber_size: '30', stroke: '1 3/4' },
];

async function bookOf(rows: readonly StrokeRow[]): Promise<Uint8Array> {
  return bytesOf(workbookOf(await evaluateReadings(Buffer.from(READINGS), { strokes: Buffer.from(await strokesCsv(rows)) })));
}

const places = (findings: readonly Finding[]): string[] => findings.map(({ code, sheet, cell, column, found, expected }) => `${code} ${sheet}!${cell} ${column}: ${found} for ${expected}`);

describe('the sheet Strokes', () => {
  let book: Uint8Array;
  let letters: (name: string) => string;
  beforeAll(async () => {
    book = await bookOf(ROWS);
    const names = (await rowsOfSheet(book, 'Strokes')).get(7)!;
    letters = (name) => lettersAt(names.indexOf(name));
  });
  /** The findings after a change of the sheet's XML, which must change something. */
  async function after(change: (xml: string) => string, sheet = 'Strokes'): Promise<string[]> {
    return places((await strokesFindings(await withSheetChanged(book, sheet, change))).findings);
  }

  it.each([
    ['with few rows', ROWS],
    ['with every kind of row', EVERY_ROW],
  ])('verifies clean as it was written: %s', async (_, rows) => {
    const { findings, formulas, cells } = await strokesFindings(await bookOf(rows));
    expect(findings).toStrictEqual([]);
    // 39 computed columns are formulas, in 34 rows at least.
    expect(formulas).toBeGreaterThanOrEqual(Math.max(rows.length, 34) * 39);
    expect(cells).toBeGreaterThan(formulas);
  });

  it('verifies clean when it is blank, and when it was evaluated anew', async () => {
    expect((await strokesFindings(await bytesOf(blankWorkbook({ rows: 5 })))).findings).toStrictEqual([]);
    expect((await strokesFindings(await bytesOf(workbookOf(await evaluateReadings(book))))).findings).toStrictEqual([]);
  });

  it('names a changed limit with its source, and what it changes', async () => {
    // Clamp 30 standard is line 13 of the table, in row 20: 2 in.
    const cell = `${letters('computed.limits_limit')}20`;
    const findings = await after((xml) => xml.replace(new RegExp(`(<c r="${cell}"[^>]*><v>)2<`), '$12.5<'));
    expect(findings).toContain(`limit_changed Strokes!${cell} clamp 30 standard: 2.5 for 2`);
    expect(findings).toContain(`stored_value_differs Strokes!A8 computed.verdict: fail for pass`);
    const { findings: raw } = await strokesFindings(await withSheetChanged(book, 'Strokes', (xml) => xml.replace(new RegExp(`(<c r="${cell}"[^>]*><v>)2<`), '$12.5<')));
    expect(raw.find(({ code }) => code === 'limit_changed')!.citation).toBe('49 CFR 393.47(e)(1); App. A to 49 CFR 396, 1.a(5)');
  });

  it('names a verdict that was typed over, and a stored one that was changed', async () => {
    expect(await after((xml) => xml.replace(/(<c r="A8"[^>]*>)(<f[^>]*>[^<]*<\/f>|<f[^>]*\/>)<v>fail/, '$1$2<v>pass'))).toStrictEqual(['stored_value_differs Strokes!A8 computed.verdict: pass for fail']);
    const typed = await after((xml) => xml.replace(/(<c r="A9"[^>]*>)(<f[^>]*>[^<]*<\/f>|<f[^>]*\/>)<v>pass/, '$1<v>fail'));
    expect(typed).toHaveLength(1);
    expect(typed[0]).toMatch(/^formula_replaced Strokes!A9 computed\.verdict: fail for =IF\(/);
  });

  it('names a stroke that was changed: the values that no longer fit, and the entries', async () => {
    const findings = await after((xml) => xml.replace(new RegExp(`(<c r="${letters('stroke')}8"[^>]*><v>)2.25<`), '$11.5<'));
    expect(findings).toContain('stored_value_differs Strokes!A8 computed.verdict: fail for pass');
    expect(findings.some((finding) => finding.startsWith('entries_changed Provenance!B'))).toBe(true);
  });

  it('names a source that was changed, a column that was renamed, and a name that was led astray', async () => {
    expect(await after((xml) => xml.replace(new RegExp(`(<c r="${letters('computed.limits_status')}20"[^>]*>.*?<t[^>]*>)secondary<`), '$1read<'))).toStrictEqual([`text_changed Strokes!${letters('computed.limits_status')}20 computed.limits_status: read for secondary`]);
    const shared = (await workbookParts(book)).get('xl/sharedStrings.xml')!;
    expect(shared).toContain('computed.excess_in');
    const renamed = await strokesFindings(await withPart(book, 'xl/sharedStrings.xml', (xml) => xml.replace('>computed.excess_in<', '>computed.else<')));
    expect(renamed.findings.map(({ code }) => code)).toStrictEqual(['columns_changed']);
    const astray = await strokesFindings(await withPart(book, 'xl/workbook.xml', (xml) => xml.replace(/(<definedName name="strokes_verdict">)[^<]*/, '$1Strokes!$B$8:$B$41')));
    expect(places(astray.findings)).toStrictEqual([`name_changed Strokes! strokes_verdict: Strokes!$B$8:$B$41 for Strokes!$A$8:$A$41`]);
  });
});

async function withPart(book: Uint8Array, path: string, change: (xml: string) => string): Promise<Uint8Array> {
  const parts = await workbookParts(book);
  const changed = change(parts.get(path)!);
  expect(changed).not.toBe(parts.get(path));
  return makeZip(Object.fromEntries([...parts].map(([name, xml]) => [name, name === path ? changed : xml])));
}

function lettersAt(index: number): string {
  return index < 26 ? String.fromCharCode(65 + index) : lettersAt(Math.floor(index / 26) - 1) + lettersAt(index % 26);
}
