import type { CellOrigin, RawCell, RawRow } from '../util/raw-table.js';
import { cellText, isBlankCell } from './checklist-cell.js';
import { LONGEST_LABEL } from './checklist-fold-label.js';
import type { LabelContext } from './checklist-facet-fields.js';
import type { LabelReader } from './checklist-label-reader.js';

/** A cell and where it stands. */
export interface LocatedCell {
  readonly cell: RawCell;
  readonly origin: CellOrigin;
}

/** A label with the cells to its right. */
export interface ChecklistLine {
  readonly label: string;
  readonly at: CellOrigin;
  readonly cells: readonly LocatedCell[];
}

/** A row of a form. */
export interface ChecklistRow {
  readonly number: number;
  readonly lines: readonly ChecklistLine[];
  /** Numbers of the items, to the left of their labels. */
  readonly ordinals: readonly LocatedCell[];
  /** Cells without a label to their left. */
  readonly strays: readonly LocatedCell[];
}

const ORDINAL = /^(?:\(?(?:\d{1,3}|[a-z])(?:[.)]\d{0,2})?\)?|no\.?|nr\.?|#)$/i;

/** Parts a row of a form into labels and the cells that belong to them; null for a blank row. */
export function checklistRow(row: RawRow, labelColumns: readonly number[]): ChecklistRow | null {
  const located = row.cells.flatMap((cell, column): LocatedCell[] => (isBlankCell(cell) ? [] : [{ cell, origin: { row: row.number, column } }]));
  if (located.length === 0) return null;
  const lines: { label: string; at: CellOrigin; cells: LocatedCell[] }[] = [];
  const ordinals: LocatedCell[] = [];
  const strays: LocatedCell[] = [];
  for (const one of located) {
    const { column } = one.origin;
    const begins = labelColumns.includes(column);
    const line = lines.at(-1);
    if (begins && typeof one.cell === 'string' && /\p{L}/u.test(one.cell)) lines.push({ label: cellText(one.cell), at: one.origin, cells: [] });
    else if (line && labelColumns.filter((at) => at <= column).at(-1) === line.at.column) line.cells.push(one);
    else if (column < labelColumns[0]! && ORDINAL.test(cellText(one.cell))) ordinals.push(one);
    else strays.push(one);
  }
  return { number: row.number, lines, ordinals, strays };
}

const NAMED_UNIT = /^((?:unit|truck|bus|vehicle|coach|tractor)(?:\s*(?:no\.?|number|#))?)\s+#?([\p{L}\p{N}/-]*\d[\p{L}\p{N}/-]*)$/iu;
const WITH_COLON = /^([^:=]{1,80}?)\s*[:=]\s*(\S.*)$/u;

/**
 * A label and its value in one cell, such as `Unit: 101` or `Truck 101`.
 *
 * @returns null where the text before the colon is no label that is understood, or more than one label stands in the cell
 */
export function inlineLabel(text: string, context: LabelContext, labels: LabelReader): { readonly label: string; readonly value: string } | null {
  const parts = (text.length <= LONGEST_LABEL ? NAMED_UNIT.exec(text) : null) ?? WITH_COLON.exec(text);
  if (!parts || /\p{L}\s*[:=]/u.test(parts[2]!)) return null;
  return labels.read(parts[1]!, context).fields.length > 0 ? { label: parts[1]!, value: parts[2]! } : null;
}
