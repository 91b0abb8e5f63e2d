import type { Workbook, Worksheet } from 'exceljs';
import { assembleXlsx, type FillValue, type SheetFill } from '../formats/xlsx-package/assemble-xlsx.js';
import { DIFFERENCE_KINDS, type DifferenceKind } from '../readings/compare-cells.js';
import type { Difference, UnmatchedInspection } from '../readings/compare-inspections.js';
import { columnLetters } from '../util/column-letters.js';
import { setUpPrint, styleCell } from './cell-styles.js';
import type { ComparedReadings } from './compare-readings.js';
import { comparisonSummarySheet } from './comparison-summary-sheet.js';
import { PALETTE } from './palette.js';
import type { WorkbookOptions } from './write-workbook.js';
import { writeHeader, writeTitle, wrappedHeight, type TableColumn } from './write-table.js';
import { newBook } from './new-book.js';
import { templateOf } from './template-of.js';

const DIFFERENCE_COLUMNS: readonly TableColumn[] = [
  { title: 'Inspection', width: 12 },
  { title: 'Date', width: 11 },
  { title: 'Unit', width: 10 },
  { title: 'Column', width: 27 },
  { title: 'Kind', width: 14 },
  { title: 'Row in A', width: 8, look: { centre: true } },
  { title: 'Cell in A', width: 9, look: { centre: true } },
  { title: 'A says', width: 24 },
  { title: 'Row in B', width: 8, look: { centre: true } },
  { title: 'Cell in B', width: 9, look: { centre: true } },
  { title: 'B says', width: 24 },
  { title: 'The paper says', width: 24 },
];
const UNMATCHED_COLUMNS: readonly TableColumn[] = [
  { title: 'Which', width: 11 },
  { title: 'Row', width: 8, look: { centre: true } },
  { title: 'Inspection', width: 16 },
  { title: 'Date', width: 13 },
  { title: 'Unit', width: 14 },
  { title: 'What to do', width: 84 },
];
const HEADER_ROW = 3;
/** Lines that fit below the header of a sheet. */
const MOST_LINES = 1_048_576 - HEADER_ROW;
const LONGEST_TEXT = 1000;
/** High enough to write into with a pen. */
const LEAST_HEIGHT = 20;

const KIND_LOOKS: Readonly<Record<DifferenceKind, { readonly fill: string; readonly ink: string }>> = {
  value: PALETTE.fail,
  blank: PALETTE.recheck,
  spelling: PALETTE.pass,
  'not understood': PALETTE['not tested'],
};

/**
 * Streams a comparison as a workbook: Summary, Differences, Missing and extra. The same comparison gives the same bytes.
 *
 * @example await pipeline(comparisonWorkbook(compared), createWriteStream('differences.xlsx'));
 */
export async function* comparisonWorkbook(compared: ComparedReadings, options: WorkbookOptions = {}): AsyncGenerator<Uint8Array, void, undefined> {
  const book = newBook();
  comparisonSummarySheet(book, compared, Math.max(0, compared.differences.length - MOST_LINES));
  const fills = [differencesSheet(book, compared), unmatchedSheet(book, compared)];
  yield* assembleXlsx({ template: await templateOf(book), fills, withoutResults: options.withoutResults });
}

function differencesSheet(book: Workbook, { a, b, differences }: ComparedReadings): SheetFill {
  const explanation = `Every cell that was keyed in two ways. A is ${shorten(a.name, 80)}, B is ${shorten(b.name, 80)}. Look at the paper and write what it says into the last column.`;
  const shown = differences.slice(0, MOST_LINES);
  const rows = shown.length > 0 ? mapRows(shown, differenceRow) : [['None: no cell differs.']];
  const sheet = tableSheet(book, 'Differences', explanation, DIFFERENCE_COLUMNS, Math.max(1, shown.length));
  sheet.addConditionalFormatting({
    ref: `E${HEADER_ROW + 1}:E${HEADER_ROW + Math.max(1, shown.length)}`,
    rules: DIFFERENCE_KINDS.map((kind, index) => ({
      type: 'cellIs',
      operator: 'equal',
      priority: index + 1,
      formulae: [`"${kind}"`],
      style: { fill: { type: 'pattern', pattern: 'solid', bgColor: { argb: KIND_LOOKS[kind].fill } }, font: { color: { argb: KIND_LOOKS[kind].ink }, bold: kind === 'value' } },
    })),
  });
  return { sheet: 'Differences', templateRow: HEADER_ROW + 1, count: Math.max(1, shown.length), rows, heightOf: (values) => Math.max(LEAST_HEIGHT, wrappedHeight(values, DIFFERENCE_COLUMNS)) };
}

function differenceRow(one: Difference): FillValue[] {
  return [one.inspection_id, one.inspected_on, one.unit, one.column, one.kind, one.row_a, one.cell_a, one.text_a, one.row_b, one.cell_b, one.text_b, null].map(cellValue);
}

function unmatchedSheet(book: Workbook, { a, b, missing, extra }: ComparedReadings): SheetFill {
  const explanation = `Inspections that only one keying has. A is ${shorten(a.name, 80)}, B is ${shorten(b.name, 80)}. Rows are those of the file that has the inspection.`;
  const rows = [
    ...missing.map((one) => unmatchedRow('in A only', one, 'Missing in B: if the paper is there, key it into B; if not, ask why A has it.')),
    ...extra.map((one) => unmatchedRow('in B only', one, 'Missing in A: if the paper is there, key it into A; if not, ask why B has it.')),
  ].slice(0, MOST_LINES);
  if (rows.length === 0) rows.push(['None.', null, null, null, null, 'Every inspection is in both.']);
  tableSheet(book, 'Missing and extra', explanation, UNMATCHED_COLUMNS, rows.length);
  return { sheet: 'Missing and extra', templateRow: HEADER_ROW + 1, count: rows.length, rows, heightOf: (values) => Math.max(LEAST_HEIGHT, wrappedHeight(values, UNMATCHED_COLUMNS)) };
}

function unmatchedRow(which: string, one: UnmatchedInspection, what: string): FillValue[] {
  return [which, one.row, one.inspection_id, one.inspected_on, one.unit, what].map(cellValue);
}

/** A sheet with a title, a header and one template row. */
function tableSheet(book: Workbook, name: string, explanation: string, columns: readonly TableColumn[], lines: number): Worksheet {
  const sheet = book.addWorksheet(name, { views: [{ state: 'frozen', ySplit: HEADER_ROW }] });
  for (const [index, { width }] of columns.entries()) sheet.getColumn(index + 1).width = width;
  writeTitle(sheet, name, explanation, columns.length);
  sheet.getRow(2).height = wrappedHeight([explanation], [{ title: '', width: columns.reduce((sum, { width }) => sum + width, 0) }]) + 5;
  writeHeader(sheet, HEADER_ROW, columns);
  for (const [index, { look }] of columns.entries()) styleCell(sheet.getCell(`${columnLetters(index)}${HEADER_ROW + 1}`), { line: true, wrap: true, ...look });
  sheet.autoFilter = `A${HEADER_ROW}:${columnLetters(columns.length - 1)}${HEADER_ROW + lines}`;
  setUpPrint(sheet, { titleRows: `${HEADER_ROW}:${HEADER_ROW}` });
  return sheet;
}

function* mapRows(differences: readonly Difference[], rowOf: (one: Difference) => FillValue[]): Generator<FillValue[]> {
  for (const one of differences) yield rowOf(one);
}

function cellValue(value: string | number | null): FillValue {
  return typeof value === 'string' ? (value === '' ? null : shorten(value, LONGEST_TEXT)) : value;
}

function shorten(text: string, length: number): string {
  return text.length <= length ? text : `${text.slice(0, length - 1)}…`;
}
