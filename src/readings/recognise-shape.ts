import type { RawRow } from '../util/raw-table.js';
import { cellText, isBlankCell, timeUnitOf } from './checklist-cell.js';
import { NO_CONTEXT, type LabelContext } from './checklist-facet-fields.js';
import { headingContext } from './checklist-headings.js';
import { findLabelColumns, type LabelColumns } from './checklist-label-columns.js';
import { LabelReader } from './checklist-label-reader.js';
import { inlineLabel } from './checklist-lines.js';
import type { Dictionary } from './dictionary.js';
import { readLongFormHeader, type LongFormHeader } from './long-form-header.js';
import { parsePressureUnit } from './pressure-units.js';
import { COMPUTED_PREFIX } from './table-names.js';

/** The shapes that readings come in: one row per inspection, one row per test, a form, a table on its side. */
export type Shape = 'table' | 'long' | 'checklist' | 'transposed';

const ROWS_LOOKED_AT = 60;
/** Fields that a form must have at least, with the unit among them, and how many must be readings. */
const LEAST_FIELDS = 4;
const LEAST_READINGS = 2;

/**
 * Tells the shape of a table by its first 60 rows. Only a clear case is told: the unit must be named, and readings with it.
 *
 * @returns null where no shape is clear
 * @example
 * recogniseShape([{ number: 1, cells: ['unit', 'date', 'test', 'circuit', 'start', 'end'] }, { number: 2, cells: ['101', '2026-03-14', 'static', 'P', '105', '104'] }], dictionary) // 'long'
 */
export function recogniseShape(rows: readonly RawRow[], dictionary: Dictionary): Shape | null {
  const labels = new LabelReader(dictionary);
  const top = rows.slice(0, ROWS_LOOKED_AT);
  for (const [index, row] of top.entries()) {
    if (headsTable(row, labels)) return 'table';
    const header = readLongFormHeader(row, () => top.slice(index + 1), labels);
    if (header && namesTests(header, top.slice(index + 1), labels)) return 'long';
  }
  return shapeOfForm(top, labels);
}

function isReading(name: string, labels: LabelReader): boolean {
  const field = labels.field(name);
  return field !== undefined && (field.kind === 'pressure' || field.kind === 'time') && field.group !== 'gauge';
}

/** A row of words only, with the unit and readings among them. */
function headsTable({ cells }: RawRow, labels: LabelReader): boolean {
  const texts = cells.filter((cell) => !isBlankCell(cell));
  if (texts.some((cell) => typeof cell === 'string' && cell.startsWith(COMPUTED_PREFIX))) return true;
  if (texts.some((cell) => typeof cell !== 'string' || /^\s*[\d.,:]+\s*$/.test(cell))) return false;
  const fields = new Set(texts.flatMap((cell) => labels.read(cellText(cell), NO_CONTEXT).fields));
  const readings = [...fields].filter((name) => isReading(name, labels)).length;
  if (!fields.has('unit')) return false;
  return readings >= 2 || (readings === 1 && fields.has('inspected_on')) || (fields.size >= 4 && fields.size * 10 >= texts.length * 6);
}

function namesTests(header: LongFormHeader, below: readonly RawRow[], labels: LabelReader): boolean {
  const at = header.columns.findIndex(({ role }) => role === 'test');
  return below.some(({ cells }) => {
    const text = cellText(cells[at]);
    return (labels.facets(text)?.test ?? null) !== null;
  });
}

function shapeOfForm(rows: readonly RawRow[], labels: LabelReader): 'checklist' | 'transposed' | null {
  const columns = findLabelColumns(rows, labels);
  if (columns.main < 0) return null;
  const fields = new Set<string>();
  let withValue = 0;
  for (const column of columns.all) {
    let context: LabelContext = NO_CONTEXT;
    for (const { cells } of rows) {
      const text = cellText(cells[column]);
      if (!/\p{L}/u.test(text)) continue;
      const inline = inlineLabel(text, context, labels);
      const read = labels.read(inline?.label ?? text, context);
      const hasValue = inline !== null || cells.some((cell, at) => at > column && !columns.all.includes(at) && !isBlankCell(cell));
      for (const name of read.fields) fields.add(name);
      if (read.fields.length > 0 && hasValue) withValue += 1;
      if (!hasValue) context = headingContext(read, context) ?? context;
    }
  }
  const readings = [...fields].filter((name) => isReading(name, labels)).length;
  if (!fields.has('unit') || fields.size < LEAST_FIELDS || readings < LEAST_READINGS || withValue < LEAST_FIELDS) return null;
  return liesOnItsSide(rows, columns, labels) ? 'transposed' : 'checklist';
}

/** On its side when two columns or more have a unit, and readings of their own in most lines that have any. */
function liesOnItsSide(rows: readonly RawRow[], { main, all }: LabelColumns, labels: LabelReader): boolean {
  const unitRow = rows.find(({ cells }) => labels.named(cellText(cells[main]))?.name === 'unit');
  if (!unitRow || all.length > 1) return false;
  const candidates = unitRow.cells.flatMap((cell, column) => (column > main && !isBlankCell(cell) ? [column] : []));
  let context: LabelContext = NO_CONTEXT;
  const counts = new Map<number, { numbers: number; cells: number }>(candidates.map((column) => [column, { numbers: 0, cells: 0 }]));
  for (const { cells } of rows) {
    const read = labels.read(cellText(cells[main]), context);
    if (cells.every((cell, at) => at <= main || isBlankCell(cell))) context = headingContext(read, context) ?? context;
    if (!read.fields.some((name) => isReading(name, labels))) continue;
    for (const [column, count] of counts) {
      const text = cellText(cells[column]);
      if (text === '' || parsePressureUnit(text) !== null || timeUnitOf(text) !== null) continue;
      count.cells += 1;
      if (/^[~≈]? ?[\d.]|^never$/iu.test(text)) count.numbers += 1;
    }
  }
  return [...counts.values()].filter(({ numbers, cells }) => numbers >= 1 && numbers * 2 >= cells).length >= 2;
}
