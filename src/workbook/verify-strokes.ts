import type { XlsxSheet } from '../formats/read-xlsx.js';
import { evaluateStrokes } from '../strokes/evaluate-strokes.js';
import { readStrokes, type ReadStrokes } from '../strokes/read-strokes.js';
import { STROKE_RULES, strokeLimits } from '../strokes/stroke-limits.js';
import { strokeNumbers, type StrokeNumbers } from '../strokes/stroke-numbers.js';
import { NO_ENTRIES, type Stroke, type StrokeEntry } from '../strokes/stroke.js';
import { columnLetters } from '../util/column-letters.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { SheetContext } from './sheet-context.js';
import { PROVENANCE_SHEET } from './sheets/provenance-sheet.js';
import { STROKES_SHEET, strokesParts } from './sheets/strokes-sheet.js';
import { layOutStrokes, strokeLimitLines, strokesColumnName, type StrokesLayout } from './strokes-layout.js';
import { STROKES_LABELS } from './strokes-provenance.js';
import { strokesSha256 } from './strokes-sha256.js';
import { foundFormula, isBlankLine, lineOf, verifyLine, type Line } from './verify-line.js';
import { placeOf, type BookNames } from './verify-names.js';
import type { ProvenanceLines } from './verify-provenance.js';
import { expectedSheet, type ExpectedSheet } from './verify-sheets.js';
import { showContent, type CellContent, type VerifyTally } from './verify-tally.js';

/** What the sheet Strokes is compared with. */
export interface StrokesTask {
  readonly sheet: XlsxSheet;
  readonly names: BookNames;
  readonly provenance: ProvenanceLines;
  readonly context: Omit<SheetContext, 'book'>;
  readonly tally: VerifyTally;
}

/**
 * Compares the sheet Strokes with what its entries and its own table of limits give: numbers of the table, formulas, stored values,
 * words, names.
 */
export async function verifyStrokes({ sheet, names, provenance, context, tally }: StrokesTask): Promise<void> {
  const lines = new Map<number, Line>();
  for await (const row of sheet.stored().rows) lines.set(row.number, lineOf(row));
  const read = await tryRead(sheet);
  const layout = layOutStrokes(read?.columns ?? [], 1);
  if (read === null || !standsInPlace(read, layout, lines.get(layout.nameRow))) {
    tally.add({ code: 'columns_changed', sheet: STROKES_SHEET, cell: `A${layout.nameRow}`, found: read === null ? 'no header of strokes' : `the row of names is row ${read.headerRow}, with columns in another order`, expected: `the names of the columns in row ${layout.nameRow}, as they were written` });
    return;
  }
  const numbers = verifyNumbers(layout, lines, tally);
  const rowCount = coveredRows(layout, names, lines);
  const strokes = Array.from({ length: rowCount }, (_, index) => strokeOfSheet(layout, lines.get(layout.firstRow + index), layout.firstRow + index));
  const content = { strokes, columns: read.columns, evaluation: evaluateStrokes(strokes.map(({ entries }) => entries), numbers), numbers, rowCount, leftOut: provenance.count(STROKES_LABELS.leftOut) };
  const expected = expectedSheet(({ book }) => strokesParts(book.addWorksheet(STROKES_SHEET), content), context);
  compareLines(expected, layout, lines, tally);
  verifyNames(expected, names, tally);
  for (const { row } of read.strokes) {
    if (row >= layout.firstRow + rowCount) tally.addToRun(0, row, '', { code: 'row_without_formulas', sheet: STROKES_SHEET, found: 'a brake chamber here', expected: `brake chambers in rows ${layout.firstRow} to ${layout.firstRow + rowCount - 1}` });
  }
  verifyEntries(read, provenance, tally);
}

async function tryRead(sheet: XlsxSheet): Promise<ReadStrokes | null> {
  try {
    return await readStrokes(sheet.table(), { name: STROKES_SHEET });
  } catch (error) {
    if (error instanceof TreadlebookError && error.code === 'header_missing') return null;
    throw error;
  }
}

function standsInPlace({ headerRow }: ReadStrokes, layout: StrokesLayout, found: Line | undefined): boolean {
  return headerRow === layout.nameRow && layout.columns.every((column, index) => column.part === 'extra' || String(found?.values[index] ?? '') === strokesColumnName(column));
}

/** The numbers in the table of limits of the sheet; each that is not as shipped is named. */
function verifyNumbers(layout: StrokesLayout, lines: ReadonlyMap<number, Line>, tally: VerifyTally): StrokeNumbers {
  const index = columnIndex(layout, 'limits_limit');
  const { limits, rules } = strokeLimits();
  const shipped = strokeNumbers();
  const found = [...limits.map(({ chamber, limit, citation }) => ({ name: chamber, right: limit, citation })), ...rules.map(({ title, value, citation }) => ({ name: title, right: value, citation }))].map(({ name, right, citation }, at) => {
    const line = lines.get(layout.firstRow + at);
    const value = line?.values[index] ?? null;
    tally.cellsCompared += 1;
    const place = { sheet: STROKES_SHEET, cell: `${columnLetters(index)}${layout.firstRow + at}`, column: name };
    const formula = line?.formulas[index];
    if (formula) tally.add({ code: 'formula_added', ...place, found: foundFormula(formula, layout.firstRow + at, index), expected: showContent(right), citation });
    else if (value !== right) tally.add({ code: 'limit_changed', ...place, found: showContent(value), expected: showContent(right), citation });
    return typeof value === 'number' ? value : null;
  });
  return {
    limits: shipped.limits.map((line, at) => ({ ...line, limit: found[at]! })),
    rules: Object.fromEntries(STROKE_RULES.map((rule, at) => [rule, { ...shipped.rules[rule], value: found[limits.length + at]! }])) as unknown as StrokeNumbers['rules'],
  };
}

/** How many rows the names cover; without names, down to the last row with a formula. */
function coveredRows(layout: StrokesLayout, names: BookNames, lines: ReadonlyMap<number, Line>): number {
  const last = /\$(\d+)$/.exec(names.reference('strokes_verdict') ?? '')?.[1];
  const withFormula = [...lines.values()].filter(({ formulas }) => formulas[0]).map(({ number }) => number);
  const to = last === undefined ? Math.max(layout.firstRow, ...withFormula) : Math.min(Number(last), Math.max(layout.firstRow, ...lines.keys()));
  return Math.max(strokeLimitLines(), to - layout.firstRow + 1);
}

/** The entries of a row as the formulas of the sheet read them. */
function strokeOfSheet(layout: StrokesLayout, line: Line | undefined, row: number): Stroke {
  const entries: Record<string, StrokeEntry> = { ...NO_ENTRIES };
  for (const [index, column] of layout.columns.entries()) {
    if (column.part !== 'entry') continue;
    const value = line?.values[index] ?? null;
    entries[column.name] = value === '' ? null : typeof value === 'boolean' ? String(value).toUpperCase() : value;
  }
  return { row, entries: entries as Stroke['entries'], asFound: new Map(), extra: [] };
}

function compareLines(expected: ExpectedSheet, layout: StrokesLayout, lines: ReadonlyMap<number, Line>, tally: VerifyTally): void {
  const typed = new Set(layout.columns.flatMap(({ part }, index) => (part === 'computed' ? [] : [index])));
  const typedOrLimit = new Set([...typed, columnIndex(layout, 'limits_limit')]);
  const columnName = (index: number): string => (layout.columns[index] ? strokesColumnName(layout.columns[index]) : '');
  for (const line of expected.lines) {
    const found = lines.get(line.number) ?? { number: line.number, values: [], formulas: [] };
    const above = line.number < layout.firstRow;
    const options = { sheet: STROKES_SHEET, tally, columnName: above ? undefined : columnName, constant: 'text_changed' as const };
    if (!above && isBlankLine(found)) tally.addToRun(0, line.number, '', { code: 'row_without_formulas', sheet: STROKES_SHEET, found: 'no formulas', expected: 'the formulas of the row' });
    else verifyLine(line, found, { ...options, except: above ? headerOfOwn(layout, line.number) : line.number < layout.firstRow + strokeLimitLines() ? typedOrLimit : typed });
  }
}

/** Headers of the user's own columns are theirs. */
function headerOfOwn(layout: StrokesLayout, row: number): ReadonlySet<number> {
  return new Set(layout.columns.flatMap(({ part }, index) => (part === 'extra' && row >= layout.titleRow ? [index] : [])));
}

function verifyNames(expected: ExpectedSheet, names: BookNames, tally: VerifyTally): void {
  for (const [name, reference] of expected.names) {
    if (name.startsWith('_xlnm.')) continue;
    const found = names.reference(name);
    if (found === null || placeOf(found) !== placeOf(reference)) tally.add({ code: 'name_changed', sheet: STROKES_SHEET, column: name, found: found ?? 'no such name', expected: reference });
  }
  names.verifyLocal([...expected.names.keys()].filter((name) => !name.startsWith('_xlnm.')), tally);
}

function verifyEntries({ strokes, columns }: ReadStrokes, provenance: ProvenanceLines, tally: VerifyTally): void {
  const line = provenance.line(STROKES_LABELS.entriesSha256);
  if (!line) return;
  tally.cellsCompared += 1;
  const now = strokesSha256(strokes, columns.flatMap(({ role, header }) => (role === 'extra' ? [header] : [])));
  const written: CellContent = line.values[1] ?? null;
  if (written !== now) tally.add({ code: 'entries_changed', sheet: PROVENANCE_SHEET, cell: `B${line.number}`, column: STROKES_LABELS.entriesSha256, found: showContent(written), expected: now });
}

function columnIndex(layout: StrokesLayout, id: 'limits_limit'): number {
  return layout.columns.findIndex((column) => column.part === 'computed' && column.column.id === id);
}
