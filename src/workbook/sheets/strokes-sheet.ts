import type { CellFormulaValue, Worksheet } from 'exceljs';
import { z } from 'zod';
import type { DefinedName, FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { ColumnRole } from '../../readings/find-header.js';
import { evaluateStrokes, type StrokeEvaluation } from '../../strokes/evaluate-strokes.js';
import { STROKE_RULES, strokeLimits } from '../../strokes/stroke-limits.js';
import { strokeNumbers, type StrokeNumbers } from '../../strokes/stroke-numbers.js';
import { STROKE_FIELDS, type Stroke } from '../../strokes/stroke.js';
import { columnLetters } from '../../util/column-letters.js';
import { readPackageJsonFile } from '../../util/read-package-json-file.js';
import { cautions } from '../cautions.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { strokesRows } from '../strokes-cells.js';
import { STROKE_BANDS, STROKE_BLOCKS, type StrokeColumnId } from '../strokes-columns.js';
import { LOOKS_AT_ALL_ROWS, strokeRuleName, strokesFormulas, strokesRangeName } from '../strokes-formulas.js';
import { BLANK_STROKES, layOutStrokes, strokeLimitLines, strokesColumnName, STROKES_SHEET, type StrokesLayout, type StrokesSheetColumn } from '../strokes-layout.js';
import { markStrokes, strokesLook, strokesWidth, validateStrokes } from '../strokes-looks.js';

export { STROKES_SHEET } from '../strokes-layout.js';

/** Up to this many chambers every column is a live formula; above it those that look at all rows would make a spreadsheet program wait. */
export const MOST_LIVE_STROKES = 2000;

const textSchema = z.strictObject({ title: z.string(), method: z.string(), rules: z.string() });

/** What the sheet Strokes is made from. */
export interface StrokesContent {
  readonly strokes: readonly Stroke[];
  readonly columns: readonly ColumnRole[];
  readonly evaluation: StrokeEvaluation;
  /** The numbers in the table of limits. */
  readonly numbers: StrokeNumbers;
  readonly rowCount: number;
  /** Strokes that the sheet has no rows for. */
  readonly leftOut?: number;
}

/** Lays out the sheet Strokes: in a workbook for entry, and where there are strokes. */
export function strokesSheet({ book, fleet }: SheetContext): SheetParts {
  if (fleet === null) return strokesParts(book.addWorksheet(STROKES_SHEET), { strokes: [], columns: [], evaluation: evaluateStrokes([]), numbers: strokeNumbers(), rowCount: Math.max(BLANK_STROKES, strokeLimitLines()) });
  if (!fleet.strokes) return {};
  const { strokes, columns, evaluation, leftOut } = fleet.strokes;
  return strokesParts(book.addWorksheet(STROKES_SHEET), { strokes, columns, evaluation, numbers: strokeNumbers(), rowCount: Math.max(strokes.length, strokeLimitLines()), leftOut });
}

/** Lays out the sheet for what it is to hold. */
export function strokesParts(sheet: Worksheet, { strokes, columns, evaluation, numbers, rowCount, leftOut = 0 }: StrokesContent): SheetParts {
  const layout = layOutStrokes(columns, rowCount);
  const formulas = strokesFormulas(layout);
  const live = strokes.length <= MOST_LIVE_STROKES;
  const lastRow = layout.firstRow + rowCount - 1;
  const frozen = layout.columns.findIndex((column) => column.part === 'entry' && column.name === 'position') + 1;
  sheet.views = [{ state: 'frozen', xSplit: frozen >= 2 && frozen <= 6 ? frozen : 1, ySplit: layout.nameRow }];
  writeTop(sheet, layout, evaluation, leftOut);
  for (const [index, column] of layout.columns.entries()) {
    const letters = columnLetters(index);
    sheet.getColumn(index + 1).width = strokesWidth(column);
    if (column.part === 'gap') continue;
    writeHeads(sheet, layout, letters, column);
    const template = sheet.getCell(`${letters}${layout.firstRow}`);
    styleCell(template, strokesLook(column));
    template.value = null;
    if (column.part === 'entry') validateStrokes(sheet, column.field, `${letters}${layout.firstRow}`, `${letters}${lastRow}`);
    if (column.part !== 'computed') continue;
    const { id } = column.column;
    const formula = live || !LOOKS_AT_ALL_ROWS.has(id) ? formulas.get(id) : undefined;
    if (formula !== undefined) template.value = { formula, result: 0 } as CellFormulaValue;
  }
  markStrokes(sheet, layout, lastRow);
  setUpPrint(sheet, { titleRows: `${layout.titleRow - 1}:${layout.nameRow}` });
  void sheet.protect('', { selectLockedCells: true, selectUnlockedCells: true, formatColumns: true, formatRows: true });
  return {
    definedNames: [...rangeNames(layout, lastRow), printArea(layout, lastRow, { strokes: strokes.length, lines: Math.max(evaluation.vehicles.length, evaluation.positions.length) })],
    fill: { sheet: STROKES_SHEET, templateRow: layout.firstRow, count: rowCount, rows: strokesRows(layout, strokes, evaluation, numbers), heightOf: heightOf(layout, strokes.length === 0 ? 2 : 1) },
  };
}

/** Title, cautions, how to measure, what counts, and the counts. */
function writeTop(sheet: Worksheet, layout: StrokesLayout, evaluation: StrokeEvaluation, leftOut: number): void {
  const { title, method, rules } = textSchema.parse(readPackageJsonFile('workbooks', 'strokes-sheet.json'));
  const { last } = layout.spanOf('entries');
  const lastIndex = layout.columns.findIndex((_, index) => columnLetters(index) === last);
  for (let index = 0; index <= lastIndex; index++) styleCell(sheet.getCell(1, index + 1), { ...PALETTE.title, bold: true, size: 14 });
  sheet.getCell('A1').value = leftOut === 0 ? title : `${title}. ${leftOut} more brake chambers have no room here: evaluate --json lists them.`;
  sheet.getRow(1).height = 26;
  const counted = ['pass', 'fail', 'recheck', 'not tested'] as const;
  const formula = counted.map((verdict) => `COUNTIF(${strokesRangeName('verdict')},"${verdict}")&" ${verdict}"`).join('&", "&');
  const result = counted.map((one) => `${evaluation.chambers.filter(({ verdict }) => verdict === one).length} ${one}`).join(', ');
  const counts = sheet.getCell(`${layout.lettersOf('reason')}1`);
  counts.value = { formula, result } as CellFormulaValue;
  styleCell(counts, { ...PALETTE.title, bold: true, size: 11 });
  const lines = [cautions().join(' '), method, rules];
  const across = layout.columns.slice(0, lastIndex + 1).reduce((sum, column) => sum + strokesWidth(column), 0);
  for (const [index, words] of lines.entries()) {
    const row = index + 2;
    sheet.mergeCells(`A${row}:${last}${row}`);
    sheet.getCell(`A${row}`).value = words;
    styleCell(sheet.getCell(`A${row}`), { wrap: true, top: true, ...(index === 0 ? { ...PALETTE.caution, bold: true } : { ink: PALETTE.header.ink }) });
    sheet.getRow(row).height = 4 + 13.5 * Math.ceil(words.length / (across * (index === 0 ? 1.02 : 1.12)));
  }
}

function writeHeads(sheet: Worksheet, layout: StrokesLayout, letters: string, column: StrokesSheetColumn): void {
  const own = column.part === 'computed';
  const [band, title, name] = [layout.titleRow - 1, layout.titleRow, layout.nameRow].map((row) => sheet.getCell(`${letters}${row}`));
  const starts = own ? STROKE_BLOCKS[column.block][0]!.id === column.column.id : layout.columns.findIndex(({ part }) => part !== 'computed') === layout.columns.indexOf(column);
  if (starts) band!.value = own ? STROKE_BANDS[column.block] : 'Typed: one row for each brake chamber';
  styleCell(band!, { ...(own ? PALETTE.bandOther : PALETTE.band), bold: true });
  title!.value = titleOf(column);
  styleCell(title!, { size: 9, ...(own ? PALETTE.computedHeader : PALETTE.header), bold: true, wrap: true, centre: true, line: true });
  name!.value = strokesColumnName(column);
  styleCell(name!, { ...PALETTE.name, size: 7, wrap: true, top: true, line: true });
  sheet.getRow(layout.titleRow - 1).height = 18;
  sheet.getRow(layout.titleRow).height = 54;
  sheet.getRow(layout.nameRow).height = 30;
}

function titleOf(column: StrokesSheetColumn): string {
  switch (column.part) {
    case 'entry':
      return column.name === 'stroke' || column.name === 'rated_stroke' ? `${column.field.title} (in, or the unit beside)` : column.field.title;
    case 'extra':
      return column.header;
    case 'as_found':
      return 'Text as found';
    case 'computed':
      return column.column.title;
    case 'gap':
      return '';
  }
}

function rangeNames(layout: StrokesLayout, lastRow: number): DefinedName[] {
  const name = (column: Parameters<typeof strokesRangeName>[0], last: number): DefinedName => ({ name: strokesRangeName(column), reference: `${STROKES_SHEET}!$${layout.lettersOf(column)}$${layout.firstRow}:$${layout.lettersOf(column)}$${last}` });
  const lastLimit = layout.firstRow + strokeLimitLines() - 1;
  const firstRule = layout.firstRow + strokeLimits().limits.length;
  return [
    ...STROKE_FIELDS.map((field) => name(field, lastRow)),
    ...(['verdict', 'stroke_in', 'defective', 'vehicle', 'vehicle_no', 'side', 'pair', 'position_no'] satisfies StrokeColumnId[]).map((id) => name(id, lastRow)),
    ...STROKE_BLOCKS.limits.filter(({ id }) => !['limits_diameter', 'limits_unit', 'limits_printed'].includes(id)).map(({ id }) => name(id, lastLimit)),
    ...STROKE_RULES.map((rule, index) => ({ name: strokeRuleName(rule), reference: `${STROKES_SHEET}!$${layout.lettersOf('limits_limit')}$${firstRule + index}` })),
  ];
}

/** Prints the chambers, the vehicles with the positions, and the limits each from a page of their own. */
function printArea(layout: StrokesLayout, lastRow: number, { strokes, lines }: { readonly strokes: number; readonly lines: number }): DefinedName {
  const ending = (rows: number): number => Math.min(lastRow, layout.firstRow + rows - 1);
  const area = (from: string, to: string, first: number, last: number): string => `${STROKES_SHEET}!$${from}$${first}:$${to}$${last}`;
  const [entries, vehicles, positions, limits] = (['entries', 'vehicles', 'positions', 'limits'] as const).map((block) => layout.spanOf(block));
  const bands = layout.titleRow - 1;
  return {
    name: '_xlnm.Print_Area',
    onSheet: STROKES_SHEET,
    reference: [
      area(entries!.first, entries!.last, 1, strokes === 0 ? lastRow : ending(strokes)),
      area(vehicles!.first, positions!.last, bands, lines === 0 ? ending(20) : ending(lines)),
      area(limits!.first, limits!.last, bands, ending(strokeLimitLines())),
    ].join(','),
  };
}

/** The height that the wrapped words of a row need, or that a row by hand needs. */
function heightOf(layout: StrokesLayout, fewestLines: number): (values: readonly FillValue[]) => number {
  const wrapped = layout.columns.flatMap((column, at) => (strokesLook(column).wrap === true ? [{ at, characters: Math.floor(strokesWidth(column) * (strokesLook(column).bold ? 1 : 1.15)) }] : []));
  return (values) => 4 + 12.5 * Math.max(fewestLines, ...wrapped.map(({ at, characters }) => Math.ceil(String(values[at] ?? '').length / characters)));
}
