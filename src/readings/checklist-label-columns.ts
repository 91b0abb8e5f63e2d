import type { RawRow } from '../util/raw-table.js';
import { cellText } from './checklist-cell.js';
import { NO_CONTEXT, type LabelContext } from './checklist-facet-fields.js';
import type { LabelReader } from './checklist-label-reader.js';
import { headingContext } from './checklist-headings.js';
import { inlineLabel } from './checklist-lines.js';

const LOOK_DOWN = 2000;
const LOOK_RIGHT = 64;

/** The columns that hold labels. */
export interface LabelColumns {
  /** The one with the most labels that are understood; -1 where there is none. */
  readonly main: number;
  /** All of them, from left to right: forms put two or three pairs side by side. */
  readonly all: readonly number[];
}

/** Finds the columns that hold labels: the one with the most that are understood, and others where half are. */
export function findLabelColumns(rows: readonly RawRow[], labels: LabelReader): LabelColumns {
  const top = rows.slice(0, LOOK_DOWN);
  const width = Math.min(LOOK_RIGHT, top.reduce((most, { cells }) => Math.max(most, cells.length), 0));
  const counts = Array.from({ length: width }, (_, column) => countLabels(top, column, labels));
  const main = counts.reduce((best, { known }, column) => (known > (counts[best]?.known ?? 0) ? column : best), -1);
  const all = counts.flatMap(({ known, texts }, column) => (column === main || (known >= 2 && known * 2 >= texts) ? [column] : []));
  return { main, all };
}

function countLabels(rows: readonly RawRow[], column: number, labels: LabelReader): { readonly known: number; readonly texts: number } {
  let context: LabelContext = NO_CONTEXT;
  let known = 0;
  let texts = 0;
  for (const { cells } of rows) {
    const text = cellText(cells[column]);
    if (text === '') continue;
    texts += 1;
    if (!/\p{L}/u.test(text)) continue;
    const read = labels.read(text, context);
    if (read.fields.length > 0 || inlineLabel(text, context, labels)) known += 1;
    context = headingContext(read, context) ?? context;
  }
  return { known, texts };
}
