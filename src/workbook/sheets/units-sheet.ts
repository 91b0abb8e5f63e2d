import type { CellFormulaValue, CellValue, Worksheet } from 'exceljs';
import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { isoDateToSerial } from '../../readings/date-serial.js';
import { columnLetters } from '../../util/column-letters.js';
import { colourWhere, colourVerdicts, setUpPrint, styleCell } from '../cell-styles.js';
import { distinctFormula } from '../distinct-formula.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeHeader } from '../write-table.js';
import { CHART_COLUMNS, CHART_SPAN, chartCells, worstUnitsChart } from './unit-chart.js';
import { ownUseColumns, unitColumns, urgencyOf, type UnitColumn, type UnitLine } from './unit-columns.js';
import { COUNTED_TO_CELL, writeGroups, writeUnitHeader } from './unit-header.js';
import { unitNotes } from './unit-notes.js';
import { BLANK_UNITS, placedFormula, unitPlaces, unitRange, UNITS_FIRST_ROW, UNITS_SHEET, UNITS_TITLE_ROW, type UnitPlaces } from './unit-places.js';
import { NO_ROWS, unitRows } from './unit-rows.js';
import { repairedSince, toDo } from './unit-to-do.js';

export { UNITS_SHEET } from './unit-places.js';

/** Where the columns of the sheet Units stand in the workbook of a context. */
export function placesOf({ plan, fleet }: Pick<SheetContext, 'plan' | 'fleet'>): UnitPlaces {
  const gap = Array.from({ length: CHART_SPAN + 2 }, () => '');
  const names = [...unitColumns(plan).map(({ name }) => name), ...gap, ...ownUseColumns(plan).map(({ name }) => name), ...CHART_COLUMNS.map(({ name }) => name)];
  return unitPlaces(names, fleet ? Math.max(1, fleet.summary.units.length) : BLANK_UNITS);
}

/** Lays out the sheet Units: one row per unit, the highest share of a leak's limit first, and what to do with each. */
export function unitsSheet(context: SheetContext): SheetParts {
  const { book, fleet, live, plan } = context;
  const [columns, own] = [unitColumns(plan), ownUseColumns(plan)];
  const places = placesOf(context);
  const lines = linesOf(context);
  const rowCount = places.lastRow - UNITS_FIRST_ROW + 1;
  const urgencies = lines.map((line, index) => urgencyOf(line, index + 1));
  const turns = turnsOf(urgencies);
  const chart = chartCells(lines.map(({ unit }) => ({ unit: unit.unit, share: unit.share_now })), rowCount);

  const sheet = book.addWorksheet(UNITS_SHEET, { views: [{ state: 'frozen', xSplit: 1, ySplit: UNITS_TITLE_ROW }] });
  const chartFrom = columns.length + 1;
  const ownFrom = columns.length + CHART_SPAN + 2;
  const withPlace = [...columns.map((column, index) => ({ column, index })), ...[...own, ...CHART_COLUMNS].map((column, index) => ({ column, index: ownFrom + index }))];
  for (const { column, index } of withPlace) sheet.getColumn(index + 1).width = column.width;
  const first = turns.flatMap((turn, index) => (turn !== null && turn <= 3 ? [{ turn, index }] : [])).sort((a, b) => a.turn - b.turn);
  writeUnitHeader(
    sheet,
    {
      first: first.map(({ index }) => ({ unit: lines[index]!.unit.unit, toDo: toDo(lines[index]!.unit, repairedSince(lines[index]!.unit, lines[index]!.rows)) })),
      live,
      anyUnit: lines.length > 0,
      countedTo: countedTo(context),
      notes: unitNotes(context),
    },
    places,
    columns.length,
  );
  writeGroups(sheet, columns.map(({ group }) => group));
  writeGroups(sheet, [...own.map(({ group }) => group), ...CHART_COLUMNS.map(() => 'For the chart')], ownFrom);
  writeHeader(sheet, UNITS_TITLE_ROW, columns);
  writeHeader(sheet, UNITS_TITLE_ROW, [...own, ...CHART_COLUMNS], ownFrom);
  sheet.getRow(UNITS_TITLE_ROW - 1).height = 16;
  sheet.getRow(UNITS_TITLE_ROW).height = 48;
  const guarded = fleet === null || lines.length === 0;
  for (const { column, index } of withPlace) {
    const cell = sheet.getCell(`${columnLetters(index)}${UNITS_FIRST_ROW}`);
    styleCell(cell, { line: true, ...column.look });
    cell.value = templateValue(column, cell.address, places, { live, blank: fleet === null, guarded });
  }
  mark(sheet, places);
  sheet.autoFilter = `A${UNITS_TITLE_ROW}:${columnLetters(columns.length - 1)}${places.lastRow}`;
  setUpPrint(sheet, { titleRows: `1:${UNITS_TITLE_ROW}`, titleColumns: 'A:A', pagesWide: 3 });
  sheet.pageSetup.printArea = `A$1:${columnLetters(chartFrom + CHART_SPAN)}$${Math.max(places.lastRow, UNITS_TITLE_ROW + 23)}`;

  const rows = Array.from({ length: rowCount }, (_, row): FillValue[] => {
    const line = lines[row];
    const cells = columns.map((column): FillValue => (line ? valueOf(column, line, turns[row] ?? null) : null));
    const hidden = own.map((column): FillValue => (line ? (column.name === 'urgency' ? (urgencies[row] ?? null) : column.value(line)) : null));
    return [...cells, ...Array.from({ length: ownFrom - columns.length }, () => null), ...hidden, ...chart[row]!];
  });
  return {
    fill: { sheet: UNITS_SHEET, templateRow: UNITS_FIRST_ROW, count: rows.length, rows, heightOf: heightOf(columns) },
    charts: [worstUnitsChart(places, chart, chartFrom)],
    definedNames: [
      { name: 'counted_to', reference: `${UNITS_SHEET}!$${COUNTED_TO_CELL[0]}$${COUNTED_TO_CELL.slice(1)}` },
      { name: 'units_unit', reference: `${UNITS_SHEET}!${unitRange(places, 'unit')}` },
    ],
  };
}

/** The units in the order of the sheet, and where their rows stand. */
function linesOf({ plan, fleet }: SheetContext): UnitLine[] {
  if (fleet === null) return [];
  const rows = unitRows(plan, fleet.evaluations, fleet.summary.counted_to);
  return fleet.summary.units.map((unit) => ({ unit, rows: rows.get(unit.unit.toLowerCase()) ?? NO_ROWS }));
}

function turnsOf(urgencies: readonly (number | null)[]): (number | null)[] {
  const sorted = urgencies.filter((urgency) => urgency !== null).sort((a, b) => a - b);
  const turn = new Map(sorted.map((urgency, index) => [urgency, index + 1]));
  return urgencies.map((urgency) => (urgency === null ? null : turn.get(urgency)!));
}

function valueOf(column: UnitColumn, line: UnitLine, turn: number | null): FillValue {
  return column.name === 'turn' ? turn : column.value(line);
}

function countedTo({ fleet }: SheetContext): CellValue {
  if (fleet === null) return { formula: 'IF(COUNT(readings_inspected_on)=0,"",INT(MAX(readings_inspected_on)))', result: '' } as CellFormulaValue;
  const { counted_to: to } = fleet.summary;
  return to === null ? null : isoDateToSerial(to);
}

function templateValue(column: { readonly name: string; readonly formula: UnitColumn['formula'] }, address: string, places: UnitPlaces, state: { live: boolean; blank: boolean; guarded: boolean }): CellValue {
  if (!state.live) return null;
  if (state.blank && column.name === 'unit') return arrayFormula(distinctFormula('readings_unit', `$A$${UNITS_TITLE_ROW}:$A${UNITS_TITLE_ROW}`), address);
  if (column.formula === null) return null;
  const placed = placedFormula(column.formula, places);
  const formula = state.guarded && !column.name.startsWith('chart_') ? `IF($A${UNITS_FIRST_ROW}="","",${placed})` : placed;
  return column.formula.array ? arrayFormula(formula, address) : { formula, result: 0 };
}

function arrayFormula(formula: string, ref: string): CellValue {
  return { formula, shareType: 'array', ref, result: 0 } as unknown as CellFormulaValue;
}

/** Colours that repeat what the words say. */
function mark(sheet: Worksheet, { lettersOf, lastRow }: UnitPlaces): void {
  const ref = (name: string): string => `${lettersOf(name)}${UNITS_FIRST_ROW}:${lettersOf(name)}${lastRow}`;
  const cell = (name: string): string => `$${lettersOf(name)}${UNITS_FIRST_ROW}`;
  colourVerdicts(sheet, ref('verdict'));
  sheet.addConditionalFormatting({ ref: ref('share_now'), rules: [colourWhere(`AND(ISNUMBER(${cell('share_now')}),${cell('share_now')}>1)`, PALETTE.fail, 10)] });
  sheet.addConditionalFormatting({
    ref: ref('to_do'),
    rules: [colourWhere(`LEFT(${cell('to_do')},4)="open"`, PALETTE.fail, 11), colourWhere(`${cell('to_do')}<>""`, PALETTE.recheck, 12)],
  });
}

/** The height that the wrapped words of a row need. */
function heightOf(columns: readonly UnitColumn[]): (values: readonly FillValue[]) => number {
  const wrapped = columns.flatMap(({ width, look }, at) => (look?.wrap ? [{ at, characters: Math.floor(width * (look.bold ? 1 : (look.size ?? 10) < 10 ? 1.25 : 1.1)) }] : []));
  return (values) => 3 + 13 * Math.max(1, ...wrapped.map(({ at, characters }) => Math.ceil(String(values[at] ?? '').length / characters)));
}
