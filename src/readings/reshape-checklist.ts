import type { RawRow } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { Collector, refuseTooManyRows } from './checklist-collector.js';
import { findLabelColumns } from './checklist-label-columns.js';
import { LabelReader } from './checklist-label-reader.js';
import { checklistRow } from './checklist-lines.js';
import type { ReshapedTable } from './checklist-reshaped-table.js';
import { StackedForm } from './checklist-stacked-form.js';
import { TransposedForm } from './checklist-transposed-form.js';
import type { Dictionary } from './dictionary.js';

/**
 * Puts forms together into one row per inspection. In a `checklist` labels stand beside their values, one inspection below the
 * other: the next one begins with a heading such as "Inspection 2", with the label that the first began with, with another
 * unit, after a blank row with a unit again, or where row numbers begin anew. A heading such as "Brakes applied" holds for the
 * labels below it. In the `transposed` shape labels stand in one column and each column to the right is an inspection. A label
 * that is no field heads a column of its own. Every cell is placed, used or unplaced.
 *
 * @param rows all rows of the sheet; the rows of several sheets may follow one another
 * @throws TreadlebookError `header_missing` where no label is understood; `input_unreadable` for more than 200,000 rows
 * @example
 * reshapeChecklist([
 *   { number: 1, cells: ['Unit #', '101'] },
 *   { number: 2, cells: ['Date of inspection:', '2026-03-14'] },
 *   { number: 3, cells: ['Brakes applied'] },
 *   { number: 4, cells: ['Primary start ....', '105'] },
 * ], dictionary, 'checklist').header
 * // ['inspected_on', 'unit', 'applied_primary_start']
 */
export function reshapeChecklist(rows: readonly RawRow[], dictionary: Dictionary, shape: 'checklist' | 'transposed'): ReshapedTable {
  refuseTooManyRows(rows, shape === 'checklist' ? 'a checklist' : 'a table that lies on its side');
  const labels = new LabelReader(dictionary);
  const collector = new Collector(dictionary, labels);
  const { main, all } = findLabelColumns(rows, labels);
  if (main < 0) throw new TreadlebookError({ code: 'header_missing', what: 'no label names a reading, a unit or a date', mend: 'name the lines as `treadlebook fields` lists them, at least Unit and Date' });
  const columns = shape === 'checklist' ? all : [main];
  const parted = rows.map((row) => checklistRow(row, columns));
  if (shape === 'checklist') new StackedForm(collector, parted).read();
  else new TransposedForm(collector, parted).read();
  collector.note(shape === 'checklist' ? 'The sheet was read as a form: labels beside their values.' : 'The sheet was read as a table on its side: one inspection in each column.');
  return collector.table();
}
