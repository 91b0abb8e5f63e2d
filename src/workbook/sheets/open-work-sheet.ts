import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { columnLetters } from '../../util/column-letters.js';
import { cautions } from '../cautions.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeHeader, writeTitle } from '../write-table.js';
import { NOTHING_OPEN, OPEN_WORK_FIRST_ROW, OPEN_WORK_TITLE_ROW, openWorkColumns, type OpenWorkColumn } from './open-work-columns.js';
import { periodWords, writeFigures } from './open-work-figures.js';
import { placesOf } from './units-sheet.js';

/** The sheet's name. */
export const OPEN_WORK_SHEET = 'Open work';

/** Rows of a blank workbook. */
const BLANK_ROWS = 30;
/** Rows of a live list below its last unit, for failures that are typed later. */
const SPARE_ROWS = 3;
/** The last column that is printed. */
const LAST_PRINTED = 'M';
/** Points of a live row: the texts that come into it may be long. */
const ROOM = 96;
const FIGURES_ROW = 4;

/** Lays out the sheet Open work: the figures of the period, and one row per unit with an open failure, the longest open first. */
export function openWorkSheet(context: SheetContext): SheetParts {
  const { book, live } = context;
  const places = placesOf(context);
  const columns = openWorkColumns(places);
  const printed = columns.length - 1;
  const sheet = book.addWorksheet(OPEN_WORK_SHEET, { views: [{ state: 'frozen', xSplit: 2, ySplit: OPEN_WORK_TITLE_ROW }] });
  columns.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  const follows = live ? 'The list follows the sheet Units.' : 'Values as of writing.';
  writeTitle(sheet, 'Open work', `One row per unit with a failed check that has not passed since, the longest open first. ${follows} Figures: ${periodWords(context)}${ofValues(context)}`, printed);
  sheet.getRow(2).height = 30;
  sheet.mergeCells(`A3:${LAST_PRINTED}3`);
  sheet.getCell('A3').value = cautions().join(' ');
  styleCell(sheet.getCell('A3'), { ...PALETTE.caution, bold: true, wrap: true, size: 9, line: true });
  sheet.getRow(3).height = 42;
  writeFigures(sheet, FIGURES_ROW, context, places);
  sheet.getRow(OPEN_WORK_TITLE_ROW - 1).height = 6;
  writeHeader(sheet, OPEN_WORK_TITLE_ROW, columns);
  sheet.getRow(OPEN_WORK_TITLE_ROW).height = 40;
  for (const [index, { look, formula }] of columns.entries()) {
    const cell = sheet.getCell(`${columnLetters(index)}${OPEN_WORK_FIRST_ROW}`);
    styleCell(cell, { line: true, ...look });
    cell.value = live && formula !== null ? { formula, result: '' } : null;
  }
  const rows = rowsOf(context, columns);
  setUpPrint(sheet, { titleRows: `${OPEN_WORK_TITLE_ROW}:${OPEN_WORK_TITLE_ROW}` });
  sheet.pageSetup.printArea = `A$1:${LAST_PRINTED}$${OPEN_WORK_FIRST_ROW + rows.length - 1}`;
  return { fill: { sheet: OPEN_WORK_SHEET, templateRow: OPEN_WORK_FIRST_ROW, count: rows.length, rows, heightOf: heightOf(columns, live ? ROOM : 40) } };
}

/** What no formula gives, after the words on the figures. */
function ofValues({ fleet, live }: SheetContext): string {
  if (fleet === null) return '. Build-up and leak stays blank until the workbook is evaluated with the program: no formula gives it.';
  return live ? '; open and overdue are live, the others, and build-up and leak, values computed when the workbook was written.' : '.';
}

function rowsOf({ fleet, live }: SheetContext, columns: readonly OpenWorkColumn[]): FillValue[][] {
  const none: FillValue[] = columns.map(() => null);
  if (fleet === null) return Array.from({ length: BLANK_ROWS }, () => none);
  const { units, open_work: work } = fleet.summary;
  const places = new Map(units.map(({ unit, buildup_explained }, index) => [unit, { place: index + 1, buildup_explained }]));
  // Of failures open since one day, the unit that stands first on Units stands first: so the formulas rank them.
  const lines = work.map((one) => ({ one, ...places.get(one.unit)! })).sort((a, b) => (a.one.open_since < b.one.open_since ? -1 : a.one.open_since > b.one.open_since ? 1 : a.place - b.place));
  const rows = lines.map(({ one, place, buildup_explained }, index) => columns.map(({ value }) => value({ ...one, buildup_explained })).with(0, index + 1).with(columns.length - 1, place));
  if (rows.length === 0 && units.length > 0) rows.push(none.with(1, NOTHING_OPEN));
  const count = live ? work.length + SPARE_ROWS : Math.max(1, work.length);
  while (rows.length < count) rows.push(none);
  return rows;
}

/** The height that the wrapped texts need, and `least` for the pen. */
function heightOf(columns: readonly OpenWorkColumn[], least: number): (values: readonly FillValue[]) => number {
  const wrapped = columns.flatMap(({ width, look }, at) => (look?.wrap ? [{ at, characters: Math.floor(width * ((look.size ?? 10) < 10 ? 1.25 : 0.95)) }] : []));
  return (values) => Math.max(least, 4 + 12.5 * Math.max(...wrapped.map(({ at, characters }) => Math.ceil(String(values[at] ?? '').length / characters))));
}
