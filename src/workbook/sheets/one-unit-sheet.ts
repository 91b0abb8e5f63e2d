import type { CellFormulaValue, CellValue, Worksheet } from 'exceljs';
import { isoDateToSerial } from '../../readings/date-serial.js';
import { columnLetters } from '../../util/column-letters.js';
import { alignCell, colourVerdicts, setUpPrint, styleCell } from '../cell-styles.js';
import { DATE_VALIDATION, validateCells } from '../cell-validation.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeTitle } from '../write-table.js';
import { oneUnitCharts } from './one-unit-charts.js';
import { oneUnitLayout, type OneUnitLayout } from './one-unit-layout.js';
import { LEAST_CHARTED, MOST_SHOWN, ONE_UNIT_FIRST_ROW, ONE_UNIT_LAST_ROW, ONE_UNIT_SHEET, ONE_UNIT_TITLE_ROW, PICKED_CELL, SIGNAL_ROW, UP_TO_CELL } from './one-unit-places.js';
import { oneUnitView, type OneUnitView } from './one-unit-view.js';
import { oneUnitWords, signalFormula } from './one-unit-words.js';

/** Rows of the tables that are printed in any case: they fit below the charts on the first page. No unit of the fleet loses a row in print, and short ones have no second page. */
const ON_FIRST_PAGE = 34;

const BEYOND = { fill: { type: 'pattern' as const, pattern: 'solid' as const, bgColor: { argb: PALETTE.fail.fill } }, font: { color: { argb: PALETTE.fail.ink }, bold: true } };

/** What is chosen on the sheet. */
export interface PickedUnit {
  /** Null where none is chosen. */
  readonly unit: string | null;
  /** The last day that is shown, `yyyy-mm-dd`; null for all. */
  readonly upTo: string | null;
}

/** Lays out the sheet One unit for the unit that uses most of a leak's limit now. */
export function oneUnitSheet(context: SheetContext): SheetParts {
  const { fleet } = context;
  return oneUnitSheetOf(context, { unit: fleet?.summary.units[0]?.unit ?? null, upTo: fleet?.summary.period.to ?? fleet?.asOf ?? null });
}

/**
 * Lays out the sheet One unit: its latest inspections, its losses over time and its control chart. Everything follows the
 * two cells in which a unit and a day are chosen, by live formulas over Readings; where the readings go on over several
 * sheets, which no formula of this sheet could follow, everything is a value, and nothing is chosen.
 */
export function oneUnitSheetOf({ book, plan, fleet, layout: readings }: SheetContext, { unit, upTo }: PickedUnit): SheetParts {
  const layout = oneUnitLayout(plan);
  const view = oneUnitView({ plan, losses: layout.losses, evaluations: fleet?.evaluations ?? [], firstRow: readings.firstRow, unit, upTo });
  const isLive = readings.parts.length === 1;
  const write = isLive ? formulaCell : valueAlone;
  const sheet = book.addWorksheet(ONE_UNIT_SHEET, { views: [{ state: 'frozen', ySplit: SIGNAL_ROW }] });
  const lastPrinted = layout.span('figures')[1];
  writeTitle(
    sheet,
    'One unit',
    `${isLive ? 'Choose a unit, and its charts and tables follow: live formulas over Readings.' : 'The unit to pull in first, as computed when this workbook was written; the readings stand on several sheets.'} The control chart (NIST/SEMATECH e-Handbook 6.3.2.2 and 6.3.2.3) is that of the leading loss since the last repair that took effect, worked out here from the latest ${MOST_SHOWN} inspections; it needs ${LEAST_CHARTED} days. A loss below 0 is not drawn.`,
    lastPrinted + 1,
  );
  sheet.getRow(2).height = 30;
  writeEntries(sheet, { unit, upTo }, lastPrinted, isLive);
  writeSignal(sheet, layout, view, write);
  markSignal(sheet, layout, lastPrinted);
  writeColumns(sheet, layout, view, write);
  writeFigures(sheet, layout, view, write);
  const verdict = columnLetters(layout.columnAt('verdict'));
  colourVerdicts(sheet, `${verdict}${ONE_UNIT_FIRST_ROW}:${verdict}${ONE_UNIT_LAST_ROW}`);
  markRows(sheet, layout);
  setUpPrint(sheet, { titleRows: `1:${SIGNAL_ROW}` });
  const most = fleet ? fleet.summary.units.reduce((longest, { inspections }) => Math.max(longest, inspections), 0) : MOST_SHOWN;
  sheet.pageSetup.printArea = `A$1:${columnLetters(lastPrinted)}$${ONE_UNIT_FIRST_ROW + Math.min(MOST_SHOWN, Math.max(ON_FIRST_PAGE, most)) - 1}`;
  void sheet.protect('', { selectLockedCells: true, selectUnlockedCells: true, formatColumns: true, formatRows: true });
  return { charts: oneUnitCharts(layout, view) };
}

function writeEntries(sheet: Worksheet, { unit, upTo }: PickedUnit, lastColumn: number, isLive: boolean): void {
  const lines = [
    [PICKED_CELL, 'Unit', unit, '@', isLive ? 'choose one of the sheet Units here' : 'the worst of the sheet Units'],
    [UP_TO_CELL, 'Up to', upTo === null ? null : isoDateToSerial(upTo), 'yyyy-mm-dd', isLive ? 'the last day that is shown; empty shows every inspection with a date' : 'the last day that is shown'],
  ] as const;
  for (const [address, label, value, format, hint] of lines) {
    const row = Number(address.slice(1));
    sheet.mergeCells(`${address}:C${row}`);
    sheet.mergeCells(`D${row}:${columnLetters(lastColumn)}${row}`);
    sheet.getCell(`A${row}`).value = label;
    styleCell(sheet.getCell(`A${row}`), { bold: true });
    const cell = sheet.getCell(address);
    cell.value = value;
    for (const letters of ['B', 'C']) styleCell(sheet.getCell(`${letters}${row}`), { ...(isLive ? PALETTE.caution : {}), bold: true, size: 12, line: true, centre: true, format, unlocked: isLive });
    sheet.getCell(`D${row}`).value = hint;
    styleCell(sheet.getCell(`D${row}`), { ink: PALETTE.name.ink });
    alignCell(sheet.getCell(`D${row}`), { vertical: 'middle', horizontal: 'left', indent: 1 });
    sheet.getRow(row).height = 18;
  }
  if (!isLive) return;
  validateCells(sheet, PICKED_CELL, { type: 'list', formulae: ['units_unit'], errorTitle: 'Unit', error: 'A unit of the sheet Units.' });
  validateCells(sheet, UP_TO_CELL, { ...DATE_VALIDATION, errorTitle: 'Up to' });
}

/** The cell is not merged: a merged cell may hold no array formula. */
function writeSignal(sheet: Worksheet, layout: OneUnitLayout, view: OneUnitView, write: CellWriter): void {
  const cell = sheet.getCell(`A${SIGNAL_ROW}`);
  const { figureCell } = layout;
  cell.value = write(signalFormula(figureCell), cell.address, oneUnitWords(view));
  styleCell(cell, { bold: true, size: 12, ink: PALETTE.header.ink });
  sheet.getRow(SIGNAL_ROW).height = 22;
}

/** A leak that rises stands out, as the words say. */
function markSignal(sheet: Worksheet, { figureCell }: OneUnitLayout, lastColumn: number): void {
  const rises = ['far above', 'drifting up'].map((words) => `ISNUMBER(SEARCH("${words}",${figureCell('signal')}))`).join(',');
  sheet.addConditionalFormatting({ ref: `A${SIGNAL_ROW}:${columnLetters(lastColumn)}${SIGNAL_ROW}`, rules: [{ type: 'expression', priority: 13, formulae: [`OR(${rises})`], style: BEYOND }] });
}

const HEADINGS = { inspections: 'Its inspections, in order', control: 'Days of the leading loss', figures: 'Control chart', working: 'Worked out on the way', chart: 'Chart data' } as const;

function writeColumns(sheet: Worksheet, layout: OneUnitLayout, view: OneUnitView, write: CellWriter): void {
  for (const part of Object.keys(HEADINGS) as (keyof typeof HEADINGS)[]) {
    const [from, to] = layout.span(part);
    const isData = part === 'working' || part === 'chart';
    for (let index = from; index <= to; index++) styleCell(sheet.getCell(ONE_UNIT_TITLE_ROW - 1, index + 1), { ...(isData ? PALETTE.bandOther : PALETTE.band), bold: true });
    sheet.getCell(ONE_UNIT_TITLE_ROW - 1, from + 1).value = HEADINGS[part] + headingUnit(part, layout);
  }
  sheet.getRow(ONE_UNIT_TITLE_ROW).height = 54;
  layout.widths.forEach((width, index) => (sheet.getColumn(index + 1).width = width));
  for (const { id, title, width, look, formula, rows } of layout.columns) {
    const index = layout.columnAt(id) + 1;
    if (index > layout.widths.length) sheet.getColumn(index).width = width;
    writeTitleCell(sheet, index, title);
    const values = view.column(id);
    for (let row = ONE_UNIT_FIRST_ROW; row < ONE_UNIT_FIRST_ROW + (rows ?? MOST_SHOWN); row++) {
      const cell = sheet.getCell(row, index);
      const value = values[row - ONE_UNIT_FIRST_ROW] ?? null;
      cell.value = formula === null ? value : write(formula(layout.cellsIn(row)), cell.address, value);
      styleCell(cell, look ?? {});
    }
  }
}

/** The unit of the losses below a heading, where losses are not shown in the one that they are computed in. */
function headingUnit(part: keyof typeof HEADINGS, { losses }: OneUnitLayout): string {
  const units = new Set(losses.map(({ unit, shownUnit }) => (part === 'working' ? unit : shownUnit)));
  return losses.every(({ divisor }) => divisor === null) || part === 'inspections' || units.size !== 1 ? '' : ` (${[...units][0]!})`;
}

function writeFigures(sheet: Worksheet, layout: OneUnitLayout, view: OneUnitView, write: CellWriter): void {
  const [label, value] = layout.span('figures').map((index) => index + 1) as [number, number];
  writeTitleCell(sheet, label, 'Figure');
  writeTitleCell(sheet, value, 'Value');
  for (const [index, { id, title, look, working, formula }] of layout.figures.entries()) {
    const row = ONE_UNIT_FIRST_ROW + index;
    const ink = working ? { ink: PALETTE.name.ink } : {};
    sheet.getCell(row, label).value = title;
    styleCell(sheet.getCell(row, label), { line: true, ...ink });
    const cell = sheet.getCell(row, value);
    cell.value = write(formula(layout.cellsIn(row)), cell.address, view.figure(id));
    styleCell(cell, { line: true, ...look, ...ink });
  }
}

function writeTitleCell(sheet: Worksheet, column: number, title: string): void {
  const cell = sheet.getCell(ONE_UNIT_TITLE_ROW, column);
  cell.value = title;
  styleCell(cell, { ...PALETTE.header, bold: true, wrap: true, line: true });
}

/**
 * Every formula of the sheet is an array formula, also where one value goes in. LibreOffice takes an array formula of a
 * file as not computed yet, and a plain one as computed; when a cell changes, it goes no further than to cells that are
 * not computed yet. A plain formula that rests on an array formula would keep its old value when another unit is chosen.
 */
function formulaCell(formula: string, ref: string, result: CellValue): CellValue {
  return { formula, shareType: 'array', ref, result: result ?? '' } as unknown as CellFormulaValue;
}

/** Gives what a cell holds: its formula with the result, or the result alone. */
type CellWriter = (formula: string, ref: string, result: CellValue) => CellValue;

function valueAlone(_formula: string, _ref: string, result: CellValue): CellValue {
  return result === '' ? null : (result ?? null);
}

/** A share beyond 1 is marked, as the number says; and lines around the rows that hold something. Of two formats LibreOffice takes the one that stands first. */
function markRows(sheet: Worksheet, layout: OneUnitLayout): void {
  if (layout.columns.some(({ id }) => id === 'share')) {
    const letters = columnLetters(layout.columnAt('share'));
    const first = `${letters}${ONE_UNIT_FIRST_ROW}`;
    sheet.addConditionalFormatting({ ref: `${first}:${letters}${ONE_UNIT_LAST_ROW}`, rules: [{ type: 'expression', priority: 10, formulae: [`AND(ISNUMBER(${first}),${first}>1)`], style: BEYOND }] });
  }
  const side = { style: 'hair' as const, color: { argb: PALETTE.line } };
  const style = { border: { top: side, bottom: side, left: side, right: side } };
  for (const [index, part] of (['inspections', 'control'] as const).entries()) {
    const [from, to] = layout.span(part).map(columnLetters) as [string, string];
    sheet.addConditionalFormatting({ ref: `${from}${ONE_UNIT_FIRST_ROW}:${to}${ONE_UNIT_LAST_ROW}`, rules: [{ type: 'expression', priority: 11 + index, formulae: [`$${from}${ONE_UNIT_FIRST_ROW}<>""`], style }] });
  }
}
