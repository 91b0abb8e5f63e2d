import ExcelJS from 'exceljs';
import { beforeEach, describe, expect, it } from 'vitest';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { cautions } from '../../src/workbook/cautions.js';
import { checklistOf } from '../../src/workbook/cab-checklist.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { limitWords } from '../../src/workbook/limit-words.js';
import { CAB_CHECKLIST_SHEET } from '../../src/workbook/sheets/cab-checklist-sheet.js';
import { EVERY_PART, sheetPurposes } from '../../src/workbook/sheet-purposes.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { ownSet, shippedPlan, SOURCE } from '../support/evaluate-rows.js';
import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import { recalculate, requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { rowsOfSheet } from './sheet-tables.js';
import { paperBook, pagesOfPdf } from './paper-book.js';
import { withSheetChanged, workbookParts } from './workbook-parts.js';
import { convertAllByLibreOffice } from '../support/run-libreoffice.js';

const textsOf = async (workbook: Uint8Array): Promise<string[]> => [...(await rowsOfSheet(workbook, CAB_CHECKLIST_SHEET)).values()].flat().filter((cell) => cell !== null).map(String);

describe('the sheet Cab checklist', { timeout: 60_000 }, () => {
  it('stands last before Limits, in evaluated and blank workbooks', async () => {
    const names = [...sheetPurposes(EVERY_PART).keys()];
    expect(names[names.indexOf('Limits') - 1]).toBe(CAB_CHECKLIST_SHEET);
    for (const bytes of [await bytesOf(blankWorkbook({ rows: 2 })), await bytesOf(workbookOf(await evaluateReadings('samples/invented-fleet-messy.csv')))]) {
      const texts = await textsOf(bytes);
      expect(texts).toContain('at most 3 psi/min');
      expect(texts).toContain('Loss, brakes released');
    }
  });

  it.each(limitSetIds())('holds, word for word, what %s asks for', async (id) => {
    const plan = shippedPlan(id);
    const texts = await textsOf(await paperBook(id));
    const whole = texts.join('\n');
    for (const caution of cautions()) expect(whole).toContain(caution);
    const list = checklistOf(plan, () => true);
    for (const { step, boxes, checks } of list.steps) {
      expect(whole).toContain(step.words);
      for (const { title, kind } of boxes) expect(texts).toContain(kind === 'time' ? `${title} (min:s)` : title);
      for (const { plan: check, conditions } of checks) {
        expect(whole).toContain(check.title);
        for (const condition of conditions) expect(whole).toContain(condition);
        for (const alternative of check.alternatives) {
          const { citation, status } = alternative.check.source;
          expect(texts).toContain(`${citation} [${status}]`);
          expect(texts.some((text) => text.startsWith(limitWords(plan, alternative).text))).toBe(true);
        }
      }
    }
    // Four boxes to tick for each check, and for the inspection.
    const numbered = plan.checks.filter(({ comparator }) => comparator !== 'no_number').length;
    for (const verdict of ['pass', 'fail', 'recheck', 'not tested']) expect([verdict, texts.filter((text) => text === verdict).length]).toStrictEqual([verdict, numbered + 1]);
    for (const { title, alternatives } of list.withoutNumber) expect(whole).toContain(`${title} (${alternatives[0]!.check.source.citation} [${alternatives[0]!.check.source.status}])`);
    expect(texts).toContain('Signature');
  });

  it('prints upright on one page, in black and white, and is locked without a password', async () => {
    const book = new ExcelJS.Workbook();
    await book.xlsx.load(Buffer.from(await bytesOf(blankWorkbook({ rows: 2 }))) as never);
    expect(book.getWorksheet(CAB_CHECKLIST_SHEET)!.pageSetup).toMatchObject({ orientation: 'portrait', fitToPage: true, fitToWidth: 1, fitToHeight: 1, blackAndWhite: true, paperSize: 9 });
    const colours = new Set<string>();
    book.getWorksheet(CAB_CHECKLIST_SHEET)!.eachRow((row) => row.eachCell(({ fill, font }) => void colours.add(`${fill?.type === 'pattern' ? fill.pattern : 'none'} ${font?.color?.argb ?? 'black'}`)));
    expect([...colours]).toStrictEqual(['none black']);
  });

  it('leaves room for a pen: every box for a reading is at least 7 mm high in print', async () => {
    for (const id of limitSetIds()) {
      const book = new ExcelJS.Workbook();
      await book.xlsx.load(Buffer.from(await paperBook(id)) as never);
      const sheet = book.getWorksheet(CAB_CHECKLIST_SHEET)!;
      const width = 36 * sheet.getColumn(1).width! * 5.25;
      let height = 0;
      for (let row = 1; row <= sheet.rowCount; row++) height += sheet.getRow(row).height;
      // A4 between the margins is 537 points wide, Letter 712 points high.
      const scale = Math.min(1, 537 / width, 712 / height);
      let boxes = 0;
      sheet.eachRow((row) => row.eachCell({ includeEmpty: true }, (cell) => {
        if (cell.border?.top?.style !== 'medium' || cell.isMerged !== true || cell.master !== cell) return;
        boxes += 1;
        expect([id, cell.address, row.height * scale * (25.4 / 72) >= 6.9]).toStrictEqual([id, cell.address, true]);
      }));
      // Four of them are those of the verdict.
      expect([id, boxes > 4]).toStrictEqual([id, true]);
      expect([id, scale > 0.7]).toStrictEqual([id, true]);
    }
  });
});

// The outside source is LibreOffice: it lays out the pages.
describe('printed by LibreOffice', { timeout: 400_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  it.each([['A4', 9, '595'], ['Letter', 1, '612']] as const)('takes one page of %s for every limit set', async (_, paper, width) => {
    const books = new Map<string, Uint8Array>();
    for (const id of limitSetIds()) books.set(`${id}.xlsx`, await paperBook(id, paper));
    const pdfs = await convertAllByLibreOffice(books, 'pdf');
    for (const id of limitSetIds()) {
      const { pages, widths } = pagesOfPdf(pdfs.get(`${id}.pdf`)!);
      expect([id, pages, widths]).toStrictEqual([id, 1, [width]]);
    }
  });

  it('says a changed limit of the sheet Limits', async () => {
    const twin = await bytesOf(blankWorkbook({ rows: 2, withoutResults: true }));
    const place = /<definedName name="limit_warning_1">Limits!\$([A-Z]+)\$(\d+)<\/definedName>/.exec((await workbookParts(twin)).get('xl/workbook.xml')!)!;
    const changed = await withSheetChanged(twin, 'Limits', (xml) => xml.replace(new RegExp(`(<c r="${place[1]}${place[2]}"[^>]*>)<v>60</v>`), '$1<v>65.5</v>'));
    const cells = (await recalculate(changed)).get(CAB_CHECKLIST_SHEET)!.flat();
    expect(cells).toContain('at least 65.5 psi');
    expect(cells).toContain('at most 3 psi/min');
    expect(cells).not.toContain('at least 60 psi');
  });
});

it('takes no text of a limit set for a formula', async () => {
  const evil = '=HYPERLINK("http://example.org";"x")';
  const set = parseLimitSet(ownSet({
    title: evil, authority: '+1', notice: '@SUM(A1)',
    columns: [{ name: 'own', kind: 'pressure', title: '=1+1', help: '-2', group: 'applied' }],
    measures: [{ measure: 'm', title: evil, unit: 'psi', expression: 'own * 1', meaning: evil }],
    checks: [{ check: 'a', title: evil, measure: 'm', when: 'own > 1', at_most: 3, unit: 'psi', source: { ...SOURCE, citation: evil } }, { check: 'a', title: evil, measure: 'm', at_most: 'own + 1', unit: 'psi', source: { ...SOURCE, citation: '"&A1&"' } }],
  }), 'own.json');
  const bytes = await bytesOf(blankWorkbook({ rows: 2, limits: set }));
  const book = new ExcelJS.Workbook();
  await book.xlsx.load(Buffer.from(bytes) as never);
  const formulas: string[] = [];
  book.getWorksheet(CAB_CHECKLIST_SHEET)!.eachRow((row) => row.eachCell((cell) => void (cell.formula && cell.master === cell && formulas.push(cell.formula))));
  expect(formulas).toStrictEqual(['"at most "&limit_a_1&" psi, if =1+1 is more than 1"', '"at most =1+1 plus "&limit_a_2&" (psi)"']);
  expect(await textsOf(bytes)).toContain(evil);
});
