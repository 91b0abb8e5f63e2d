import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import ExcelJS from 'exceljs';
import { beforeAll, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { cautions } from '../../src/workbook/cautions.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { sheetPurposes } from '../../src/workbook/sheet-purposes.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { runOpenpyxl, withFolder } from '../formats/outside-program.js';
import { bytesOf } from './bytes-of.js';
import { EVERY_KIND_CSV, ownLimitSet } from './every-kind-of-cell.js';
import { rowsOfSheet } from './sheet-tables.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

/** Children of `worksheet` in the order of CT_Worksheet (ECMA-376 Part 1, annex A, sml.xsd). */
const CHILD_ORDER = [
  'sheetPr', 'dimension', 'sheetViews', 'sheetFormatPr', 'cols', 'sheetData', 'sheetCalcPr', 'sheetProtection', 'protectedRanges', 'scenarios', 'autoFilter', 'sortState', 'dataConsolidate', 'customSheetViews', 'mergeCells', 'phoneticPr',
  'conditionalFormatting', 'dataValidations', 'hyperlinks', 'printOptions', 'pageMargins', 'pageSetup', 'headerFooter', 'rowBreaks', 'colBreaks', 'customProperties', 'cellWatches', 'ignoredErrors', 'smartTags', 'drawing', 'legacyDrawing',
  'legacyDrawingHF', 'drawingHF', 'picture', 'oleObjects', 'controls', 'webPublishItems', 'tableParts', 'extLst',
];

/** Functions that spreadsheet programs have known since 2007, without a prefix (ECMA-376 first edition, Part 4, 3.17.7). */
const FUNCTIONS_OF_2007 = new Set([
  'ABS', 'AND', 'AVERAGE', 'AVERAGEIF', 'BINOMDIST', 'CEILING', 'CHOOSE', 'COLUMN', 'CONCATENATE', 'COUNT', 'COUNTA', 'COUNTBLANK', 'COUNTIF', 'COUNTIFS', 'DATE', 'DAY', 'EDATE', 'EXACT', 'EXP', 'FIND', 'FIXED', 'FLOOR', 'FREQUENCY', 'HLOOKUP', 'IF', 'IFERROR', 'INDEX',
  'INT', 'INTERCEPT', 'ISBLANK', 'ISERROR', 'ISNA', 'ISNUMBER', 'ISTEXT', 'LARGE', 'LEFT', 'LEN', 'LN', 'LOG', 'LOOKUP', 'LOWER', 'MATCH', 'MAX', 'MEDIAN', 'MID', 'MIN', 'MMULT', 'MOD', 'MONTH', 'N', 'NA', 'NORMSDIST', 'NORMSINV', 'NOT', 'OR',
  'PERCENTILE', 'POWER', 'QUOTIENT', 'RANK', 'REPT', 'RIGHT', 'ROUND', 'ROUNDDOWN', 'ROUNDUP', 'ROW', 'ROWS', 'SEARCH', 'SIGN', 'SLOPE', 'SMALL', 'SQRT', 'STDEV', 'SUBSTITUTE', 'SUM', 'SUMIF', 'SUMIFS', 'SUMPRODUCT', 'SUMSQ', 'T', 'TEXT', 'TRANSPOSE',
  'TRIM', 'TRUNC', 'UPPER', 'VALUE', 'VLOOKUP', 'YEAR',
]);

const BLANK_ROWS = 12;
const LONGEST_FORMULA = 8192;

interface Book {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly parts: ReadonlyMap<string, string>;
  readonly formulas: readonly { readonly cell: string; readonly formula: string; readonly stored: unknown }[];
  readonly book: ExcelJS.Workbook;
  readonly lastRow: number;
}

async function bookOf(name: string, bytes: Uint8Array, lastRow: number): Promise<Book> {
  const formulas: { cell: string; formula: string; stored: unknown }[] = [];
  for (const sheet of (await openXlsx(bytes)).sheets) {
    for await (const row of sheet.rowsWithFormulas()) {
      for (const [index, formula] of row.formulas.entries()) if (formula) formulas.push({ cell: `${sheet.name}!${columnLetters(index)}${row.number}`, formula, stored: row.cells[index] });
    }
  }
  const book = new ExcelJS.Workbook();
  await book.xlsx.load(Buffer.from(bytes) as never);
  return { name, bytes, parts: await workbookParts(bytes), formulas, book, lastRow };
}

/** A formula without its texts, so that what looks like a name or a function is one. */
function bare(formula: string): string {
  return formula.replace(/"(?:[^"]|"")*"/g, '""');
}

describe('the structure of a workbook', { timeout: 60_000 }, () => {
  let books: readonly Book[];
  beforeAll(async () => {
    const [messy, own] = [await evaluateReadings('samples/invented-fleet-messy.csv', { limits: 'us-new-hampshire' }), await evaluateReadings(Buffer.from(EVERY_KIND_CSV), { limits: ownLimitSet() })];
    books = [
      await bookOf('messy', await bytesOf(workbookOf(messy)), 3 + messy.evaluations.length),
      await bookOf('every kind', await bytesOf(workbookOf(own)), 3 + own.evaluations.length),
      await bookOf('blank', await bytesOf(blankWorkbook({ rows: BLANK_ROWS, limits: 'us-nevada' })), 3 + BLANK_ROWS),
    ];
  }, 60_000);
  const each = (work: (book: Book) => void): void => books.forEach(work);

  it('has the sheets that Start here lists, in their order', () => {
    each(({ book, name: kind }) => expect(book.worksheets.map(({ name }) => name)).toStrictEqual([...sheetPurposes({ baseline: false, severalSets: false, strokes: kind === 'blank' }).keys()]));
  });

  it('has the children of every sheet in the order of the schema', () => {
    each(({ parts }) => {
      for (const [path, xml] of parts) {
        if (!/^xl\/worksheets\/[^/]+\.xml$/.test(path)) continue;
        const outside = xml.replace(/<sheetData>[\s\S]*<\/sheetData>/, '<sheetData/>').replace(/<(conditionalFormatting|dataValidations|mergeCells|cols|sheetViews|sheetProtection|headerFooter|sheetPr|rowBreaks|extLst)\b(?:[^>]*[^/])?>[\s\S]*?<\/\1>/g, '<$1/>');
        const children = [...outside.replace(/^[\s\S]*?<worksheet\b[^>]*>/, '').matchAll(/<([A-Za-z]+)\b/g)].map((match) => match[1]!);
        const places = children.map((child) => CHILD_ORDER.indexOf(child));
        expect([path, children.filter((_, index) => places[index]! < 0)]).toStrictEqual([path, []]);
        expect([path, places]).toStrictEqual([path, [...places].sort((a, b) => a - b)]);
        expect(children).toContain('sheetData');
      }
    });
  });

  it('lets entry cells be typed in and locks what is computed, without a password', () => {
    each(({ book, parts, lastRow }) => {
      const sheet = book.getWorksheet('Readings')!;
      for (const row of [4, lastRow]) {
        sheet.getRow(3).eachCell((header, column) => {
          const computed = String(header.value).startsWith('computed.');
          expect([header.value, row, sheet.getCell(row, column).protection?.locked ?? true]).toStrictEqual([header.value, row, computed]);
        });
      }
      for (const name of ['Start here', 'Readings', 'Limits']) {
        const protection = /<sheetProtection\b[^>]*>/.exec(parts.get(sheetPath(parts, name))!)?.[0] ?? '';
        expect([name, protection]).toStrictEqual([name, expect.stringMatching(/ sheet="1"/)]);
        expect(protection).not.toMatch(/password|hashValue|saltValue|algorithmName/);
      }
    });
  });

  it('checks what is typed: lists, dates, numbers and pressures, on every row', () => {
    each(({ parts, book, lastRow }) => {
      const xml = parts.get(sheetPath(parts, 'Readings'))!;
      const validations = new Map([...xml.matchAll(/<dataValidation\b([^>]*)>/g)].map((match) => [/sqref="([A-Z]+)4(?::\1\d+)?"/.exec(match[1]!)?.[1], match[1]!]));
      const columnOf = (name: string): string => {
        let found = '';
        book.getWorksheet('Readings')!.getRow(3).eachCell((cell, column) => (found = cell.value === name ? columnLetters(column - 1) : found));
        return found;
      };
      for (const [name, type] of [['vehicle_kind', 'list'], ['pressure_unit', 'list'], ['audible_leak', 'list'], ['inspected_on', 'date'], ['repaired_on', 'date'], ['vehicles', 'whole'], ['engine_rpm', 'decimal'], ['released_primary_start', 'custom'], ['light_on_at', 'custom'], ['released_time', 'textLength'], ['notes', 'textLength']] as const) {
        const letters = columnOf(name);
        expect([name, validations.get(letters)]).toStrictEqual([name, expect.stringContaining(`type="${type}"`)]);
        expect([name, validations.get(letters)]).toStrictEqual([name, expect.stringContaining(`sqref="${letters}4:${letters}${lastRow}"`)]);
      }
      for (const list of xml.matchAll(/<formula1>(&quot;|")(.*?)\1<\/formula1>/g)) expect(list[2]!.length).toBeLessThanOrEqual(255);
      expect(xml.replaceAll('&quot;', '"').includes('<formula1>"psi,kPa,bar"</formula1>')).toBe(true);
    });
  });

  it('has filters, frozen headers and repeated header rows in print', () => {
    each(({ book, lastRow }) => {
      const readings = book.getWorksheet('Readings')!;
      expect(String(readings.autoFilter)).toMatch(new RegExp(`^A3:[A-Z]+${lastRow}$`));
      expect(readings.views[0]).toMatchObject({ state: 'frozen', ySplit: 3 });
      expect(readings.pageSetup.printTitlesRow).toBe('1:3');
      for (const name of ['Readings', 'Units', 'Fail rates', 'Limits', 'Problems']) {
        expect([name, book.getWorksheet(name)!.pageSetup.orientation]).toStrictEqual([name, 'landscape']);
        expect([name, book.getWorksheet(name)!.views[0]?.state]).toStrictEqual([name, 'frozen']);
      }
      for (const { name, headerFooter } of book.worksheets) expect([name, headerFooter.oddFooter]).toStrictEqual([name, expect.stringMatching(/&P.*&N/)]);
      for (const [name, row] of [['Units', 6], ['Problems', 3]] as const) expect([name, String(book.getWorksheet(name)!.autoFilter)]).toStrictEqual([name, expect.stringMatching(new RegExp(`^A${row}:[A-Z]+\\d+$`))]);
    });
  });

  it('has defined names that lead to cells of its sheets, and uses no other', () => {
    each(({ parts, formulas, book }) => {
      const names = new Map([...parts.get('xl/workbook.xml')!.matchAll(/<definedName name="([^"]+)"[^>]*>([^<]*)<\/definedName>/g)].map((match) => [match[1]!, match[2]!]));
      for (const [name, range] of names) {
        if (name.startsWith('_xlnm.')) continue;
        const match = /^(?:'([^']+)'|([A-Za-z ]+))!\$([A-Z]+)\$(\d+)(?::\$([A-Z]+)\$(\d+))?$/.exec(range);
        expect([name, range, match !== null]).toStrictEqual([name, range, true]);
        const sheet = book.getWorksheet(match![1] ?? match![2]!);
        expect([name, Number(match![6] ?? match![4]) <= (sheet?.rowCount ?? 0)]).toStrictEqual([name, true]);
      }
      const used = new Set(formulas.flatMap(({ formula }) => bare(formula).match(/\b(?:readings|computed|limit|condition|fact)_[A-Za-z0-9_.]+/g) ?? []));
      expect([...used].filter((name) => !names.has(name))).toStrictEqual([]);
      expect(used.size).toBeGreaterThan(10);
    });
  });

  it('gives every number of the sheet Limits a source and its status', async () => {
    for (const { bytes, name } of books) {
      let headers: (string | null)[] = [];
      let numbers = 0;
      for (const [row, cells] of await rowsOfSheet(bytes, 'Limits')) {
        if (cells.includes('Source')) headers = cells.map((cell) => (cell === null ? null : String(cell)));
        if (cells.includes('Expression')) break;
        const at = (header: string): unknown => cells[headers.indexOf(header)] ?? null;
        if (![at('Limit'), at('Upper limit'), at('Number')].some((cell) => typeof cell === 'number')) continue;
        numbers += 1;
        expect([name, row, at('Source')]).toStrictEqual([name, row, expect.stringMatching(/\S/)]);
        expect([name, row, at('Status of the source')]).toStrictEqual([name, row, expect.stringMatching(/^(read|secondary|memory|common practice)/)]);
      }
      expect(numbers).toBeGreaterThan(5);
    }
  });

  it('has formulas that every program since 2007 knows, none of them too long, and no error stored', () => {
    each(({ formulas, parts }) => {
      const foreign = new Set<string>();
      for (const { formula } of formulas) for (const match of bare(formula).matchAll(/([A-Za-z_][A-Za-z0-9_.]*)\(/g)) if (!FUNCTIONS_OF_2007.has(match[1]!) && !match[1]!.startsWith('_xlfn.')) foreign.add(match[1]!);
      expect([...foreign]).toStrictEqual([]);
      expect(formulas.filter(({ formula }) => formula.length > LONGEST_FORMULA || formula.startsWith('=')).map(({ cell }) => cell)).toStrictEqual([]);
      expect(formulas.filter(({ stored }) => typeof stored === 'string' && /^#[A-Z/0]+[!?]?$/.test(stored)).map(({ cell }) => cell)).toStrictEqual([]);
      for (const [path, xml] of parts) if (path.startsWith('xl/worksheets/')) expect([path, /<c [^>]*t="e"/.test(xml), /<v>(?:NaN|-?Infinity)<\/v>/.test(xml)]).toStrictEqual([path, false, false]);
    });
  });

  it('shows every caution on Start here', async () => {
    for (const { bytes } of books) {
      const shown = [...(await rowsOfSheet(bytes, 'Start here')).values()].flat();
      for (const caution of cautions()) expect(shown).toContain(caution);
    }
  });

  it('loads in openpyxl without a warning', (context) => {
    for (const { bytes, book } of books) {
      const names = withFolder((folder) => {
        const path = join(folder, 'book.xlsx');
        writeFileSync(path, bytes);
        return runOpenpyxl(context, "import sys, warnings, openpyxl\nwarnings.simplefilter('error')\nprint('\\n'.join(openpyxl.load_workbook(sys.argv[1]).sheetnames))", path);
      });
      expect(names.trim().split('\n')).toStrictEqual(book.worksheets.map(({ name }) => name));
    }
  });
});
