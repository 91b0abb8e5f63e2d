import { beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { kindsOfWorkbook } from '../support/kinds-of-workbook.js';
import { dumpByOpenpyxl } from '../support/openpyxl-dump.js';
import { requireOutside } from '../support/recalculate.js';
import { convertAllByLibreOffice } from '../support/run-libreoffice.js';
import { workbookFaults } from '../support/workbook-faults.js';
import { makeZip } from '../formats/make-xlsx.js';
import { workbookParts } from './workbook-parts.js';

describe('every kind of workbook that the program writes', { timeout: 120_000 }, () => {
  let books: Map<string, Uint8Array>;
  beforeAll(async () => {
    books = await kindsOfWorkbook();
  }, 120_000);

  it('keeps to ECMA-376: the order of elements, links, names, styles, areas and lengths', async () => {
    for (const [name, bytes] of books) expect([name, await workbookFaults(bytes)]).toStrictEqual([name, []]);
  });

  it('opens in openpyxl without a warning, with the same sheets', async (context) => {
    for (const [name, { sheets }] of dumpByOpenpyxl(context, books)) expect([name, Object.keys(sheets)]).toStrictEqual([name, (await openXlsx(books.get(name)!)).sheets.map((sheet) => sheet.name)]);
  });

  it('opens in LibreOffice, which saves it with the same sheets', async (context) => {
    requireOutside(context, 'soffice');
    const saved = await convertAllByLibreOffice(new Map([...books].map(([, bytes], index) => [`${index}.xlsx`, bytes])), 'xlsx');
    for (const [index, [name, bytes]] of [...books].entries()) {
      const sheets = async (one: Uint8Array): Promise<string[]> => (await openXlsx(one)).sheets.map((sheet) => sheet.name);
      expect([name, await sheets(saved.get(`${index}.xlsx`)!)]).toStrictEqual([name, await sheets(bytes)]);
    }
  });

  // Each of these was seen to be told, so that silence means something.
  it.each<[string, string, (xml: string) => string, string]>([
    ['an element out of its order', 'xl/worksheets/sheet1.xml', (xml) => xml.replace(/(<sheetViews>.*<\/sheetViews>)(<sheetFormatPr[^>]*\/>)/, '$2$1'), 'sheetViews stands too late in worksheet'],
    ['an element of another', 'xl/styles.xml', (xml) => xml.replace('<cellXfs', '<mergeCells/><cellXfs'), 'mergeCells does not belong in styleSheet'],
    ['a style that is not there', 'xl/worksheets/sheet1.xml', (xml) => xml.replace(/ s="\d+"/, ' s="9999"'), 'the style 9999'],
    ['merged cells that overlap', 'xl/worksheets/sheet1.xml', (xml) => xml.replace(/(<mergeCell ref=")A(?!1:)\d+:/, '$1A1:'), 'merged:'],
    ['cells in a wrong order', 'xl/worksheets/sheet1.xml', (xml) => xml.replace('r="B', 'r="A'), 'after column 1'],
    ['a number that is none', 'xl/worksheets/sheet2.xml', (xml) => xml.replace(/(<c r="[A-Z]+\d+"(?: s="\d+")?>(?:<f[^>]*>[^<]*<\/f>)?<v>)[\d.]+/, '$1NaN'), 'the number NaN'],
    ['a relationship that leads nowhere', 'xl/_rels/workbook.xml.rels', (xml) => xml.replace('worksheets/sheet1.xml', 'worksheets/sheet99.xml'), 'which is not there'],
    ['a content type of another part', '[Content_Types].xml', (xml) => xml.replace('worksheet+xml', 'styles+xml'), 'is not that of worksheet'],
    ['two sheets of one name', 'xl/workbook.xml', (xml) => xml.replace('name="Units"', 'name="start HERE"'), 'two sheets have one name'],
    ['a defined name of no sheet', 'xl/workbook.xml', (xml) => xml.replace('Readings!$A$', 'Readingz!$A$'), 'points at Readingz!'],
    ['a conditional format in a style that is not there', 'xl/worksheets/sheet2.xml', (xml) => xml.replace(/dxfId="\d+"/, 'dxfId="999"'), 'the style 999'],
    ['an axis that is not there', 'xl/charts/chart1.xml', (xml) => xml.replace(/<c:crossAx val="\d+"/, '<c:crossAx val="7"'), 'its axes are'],
    ['a part that is not well-formed', 'xl/worksheets/sheet3.xml', (xml) => xml.replace('</worksheet>', ''), 'unclosed tag'],
  ])('%s would be told', async (_, path, change, told) => {
    const parts = await workbookParts(books.get('evaluated')!);
    const before = parts.get(path)!;
    const after = change(before);
    expect(after).not.toBe(before);
    const faults = await workbookFaults(new Uint8Array(await makeZip(Object.fromEntries([...parts].map(([name, xml]) => [name, name === path ? after : xml])))));
    expect(faults).toContainEqual(expect.stringContaining(told));
  });
});
