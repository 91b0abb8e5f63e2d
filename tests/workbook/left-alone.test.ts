import { describe, expect, it } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { makeXlsx, makeZip, relationshipsXml, sheetXml, workbookXml } from '../formats/make-xlsx.js';
import { bytesOf } from './bytes-of.js';
import { sheetTexts } from './sheet-texts.js';
import { workbookParts } from './workbook-parts.js';

const text = (cell: string, value: string): string => `<c r="${cell}" t="inlineStr"><is><t>${value}</t></is></c>`;
const HEADER = `<row r="1">${text('A1', 'unit')}${text('B1', 'inspected_on')}${text('C1', 'cut_in')}${text('D1', 'notes')}</row>`;
const ROW = `<row r="2">${text('A2', 'K-1')}${text('B2', '2026-03-01')}<c r="C2"><v>99</v></c><c r="D2" t="str"><f>WEBSERVICE("https://example.org")</f><v>x</v></c></row>`;

/** Readings with a formula that fetches, macros, a link to another file and two sheets that do not show. */
async function reaching(): Promise<Uint8Array> {
  return makeXlsx(HEADER + ROW, {
    'xl/workbook.xml': workbookXml('<sheets><sheet name="S" sheetId="1" r:id="rId1"/><sheet name="Lists" sheetId="2" state="hidden" r:id="rId2"/><sheet name="Deep" sheetId="3" state="veryHidden" r:id="rId2"/></sheets>'),
    'xl/_rels/workbook.xml.rels': relationshipsXml([['rId1', 'worksheet', 'worksheets/sheet1.xml'], ['rId2', 'worksheet', 'worksheets/sheet2.xml']]),
    'xl/worksheets/sheet2.xml': sheetXml(`<row r="1">${text('A1', 'x')}</row>`),
    'xl/vbaProject.bin': 'x',
    'xl/externalLinks/externalLink1.xml': '<externalLink/>',
  });
}

describe('what a workbook reaches for', () => {
  it('is a problem each, on the sheet Problems and in the JSON; sheets that do not show are told on Provenance', async () => {
    const fleet = await evaluateReadings(await reaching(), { name: 'fleet.xlsx' });
    expect(fleet.evaluations).toHaveLength(1);
    expect(fleet.problems.map(({ code, sheet, cell, found }) => [code, sheet, cell, found])).toStrictEqual([
      ['left_alone', '', '', 'The workbook holds macros; they were not run.'],
      ['left_alone', '', '', 'The workbook has a link to other files; nothing was fetched.'],
      ['left_alone', 'S', 'D2', 'The sheet S holds a formula with WEBSERVICE, first in cell D2; nothing was fetched or started.'],
    ]);
    expect(fleet.notes).toStrictEqual(['The sheet Lists is hidden. It was not read.', 'The sheet Deep is hidden so that only a program can show it. It was not read.']);
    const written = await bytesOf(workbookOf(fleet));
    const problems = await sheetTexts(written, 'Problems');
    for (const { found } of fleet.problems) expect(problems).toContain(found);
    const provenance = await sheetTexts(written, 'Provenance');
    for (const note of fleet.notes) expect(provenance).toContain(note);
    expect((await verifyWorkbook(written)).findings).toStrictEqual([]);
  });

  it('is told by verify too, wherever it stands', async () => {
    const written = await bytesOf(workbookOf(await evaluateReadings(Buffer.from('unit,inspected_on,cut_in\nK-1,2026-03-01,99\n'))));
    const parts = await workbookParts(written);
    parts.set('xl/vbaProject.bin', 'x');
    parts.set('xl/worksheets/sheet99.xml', sheetXml("<row r=\"7\"><c r=\"C7\"><f>cmd|'/c calc'!A0</f><v>1</v></c></row>"));
    parts.set('xl/workbook.xml', parts.get('xl/workbook.xml')!.replace('</sheets>', '<sheet name="More" sheetId="99" state="hidden" r:id="rId990"/></sheets>'));
    parts.set('xl/_rels/workbook.xml.rels', parts.get('xl/_rels/workbook.xml.rels')!.replace('</Relationships>', '<Relationship Id="rId990" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet99.xml"/></Relationships>'));
    const { findings } = await verifyWorkbook(await makeZip(Object.fromEntries(parts)));
    expect(findings.map(({ code, sheet, cell, found }) => [code, sheet, cell, found])).toStrictEqual([
      ['hidden_sheet', 'More', '', 'hidden'],
      ['left_alone', '', '', 'The workbook holds macros; they were not run.'],
      ['left_alone', 'More', 'C7', 'The sheet More holds a formula with DDE, first in cell C7; nothing was fetched or started.'],
    ]);
  });
});

describe('a formula without a stored value', () => {
  const formula = (cell: string, style = ''): string => `<c r="${cell}"${style}><f>TODAY()</f></c>`;
  const found = async (rows: string): Promise<unknown> => {
    const { evaluations, problems } = await evaluateReadings(await makeXlsx(HEADER + rows), { name: 'fleet.xlsx' });
    return { inspections: evaluations.map(({ unit, inspected_on, inspection }) => [unit, inspected_on, inspection.notRead]), problems: problems.map(({ code, cell, found: what }) => [code, cell, what]) };
  };

  it('is named where a date or a reading should be, and is no blank', async () => {
    expect(await found(`<row r="2">${text('A2', 'K-1')}${formula('B2')}${formula('C2')}</row>`)).toStrictEqual({
      inspections: [['K-1', null, ['inspected_on', 'cut_in']]],
      problems: [
        ['not_understood', 'B2', 'a formula without a stored value'],
        ['not_understood', 'C2', 'a formula without a stored value'],
      ],
    });
  });

  it('is named once for rows that hold nothing else', async () => {
    expect(await found(`<row r="2">${text('A2', 'K-1')}${text('B2', '2026-03-01')}</row><row r="3">${formula('A3')}${formula('B3')}</row><row r="4">${formula('A4')}</row>`)).toStrictEqual({
      inspections: [['K-1', '2026-03-01', []]],
      problems: [['not_understood', 'A3', 'a formula without a stored value and nothing else, in 2 rows from here on']],
    });
  });

  it('is the reason where there is nothing but such', async () => {
    await expect(found(`<row r="2">${formula('A2')}${formula('B2')}</row>`)).rejects.toMatchObject({ code: 'input_empty', what: 'there is no inspection below the header, only formulas without a stored value', mend: 'open the workbook in a spreadsheet program and save it, so that its formulas are computed' });
  });

  it('is named in a list with one row per test', async () => {
    const words = (row: number, values: readonly string[]): string => values.map((value, index) => text(`${'ABCDEFG'[index]!}${row}`, value)).join('');
    const list = `<row r="1">${words(1, ['unit', 'date', 'test', 'circuit', 'start', 'end', 'minutes'])}</row><row r="2">${words(2, ['K-1', '2026-03-01', 'released', 'primary', '105'])}${formula('F2')}${text('G2', '1')}</row>`;
    const { evaluations, problems } = await evaluateReadings(await makeXlsx(list), { name: 'fleet.xlsx' });
    expect(evaluations.map(({ unit, inspected_on }) => [unit, inspected_on])).toStrictEqual([['K-1', '2026-03-01']]);
    expect(problems.map(({ code, cell, found: what }) => [code, cell, what])).toStrictEqual([['not_placed', 'F2', 'a formula without a stored value']]);
  });

  it('is named in a table of strokes', async () => {
    const strokes = `<row r="1">${text('A1', 'unit')}${text('B1', 'position')}${text('C1', 'chamber_size')}${text('D1', 'stroke')}</row><row r="2">${text('A2', 'K-1')}${text('B2', 'axle 1 left')}<c r="C2"><v>30</v></c>${formula('D2')}</row>`;
    const { problems } = await evaluateReadings(Buffer.from('unit,inspected_on,cut_in\nK-1,2026-03-01,99\n'), { strokes: await makeXlsx(strokes) });
    expect(problems.map(({ code, cell, found: what }) => [code, cell, what])).toContainEqual(['not_understood', 'D2', 'a formula without a stored value']);
  });
});
