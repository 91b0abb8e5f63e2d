import { plainValue, type FormattedNumber, type RawCell } from '../util/raw-table.js';
import { dateTimeText } from './date-time-text.js';
import { entryText } from './entry-text.js';
import type { Field } from './field.js';
import type { ColumnRole } from './find-header.js';
import type { Entry } from './inspection.js';
import { readEntry, type EntryContext, type ReadEntry } from './read-entry.js';

/** What a cell says, as text. A date or time is followed by its number format, so that it is never read again as a bare number. */
export function foundText(cell: RawCell): string {
  const value = plainValue(cell);
  const shown = cell !== null && typeof cell === 'object' ? dateTimeText(cell) : null;
  if (shown !== null) return `${shown} (${(cell as FormattedNumber).format})`;
  return value === null ? '' : typeof value === 'boolean' ? (value ? 'TRUE' : 'FALSE') : String(value);
}

/** The text kept beside a cell, where it still says what the cell says; a date in either order of day and month. */
export function keptThatFits(field: Field, entry: Entry, kept: ReadonlyMap<string, string>, context: EntryContext): string | null {
  const text = kept.get(field.name);
  if (text === undefined) return null;
  const orders = field.kind === 'date' ? ([context.dateOrder, 'dmy', 'mdy'] as const) : [context.dateOrder];
  const fits = orders.some((dateOrder) => {
    const again = readEntry(field, text, { ...context, dateOrder });
    return sameEntry(again.entry, entry) && (entry !== null || again.trouble === null);
  });
  return fits ? text : null;
}

/**
 * The text as found, where it says more than the value, whether it stands in the cell or beside it. A bare number below a
 * header that names another unit gets that unit, so that the text says the same below any header.
 */
export function foundBeside(field: Field, cell: RawCell, read: ReadEntry, column: Pick<Extract<ColumnRole, { role: 'field' }>, 'unit' | 'timeUnit'>, context: EntryContext): string | null {
  const text = foundText(cell);
  const texts = [text, ...[column.unit, column.timeUnit].flatMap((unit) => (unit === null ? [] : [`${text} ${unit}`]))];
  // What was not understood below its header must not be understood below another: 790 minutes are no 790 seconds.
  if (read.trouble !== null && read.entry === null) return texts.find((one) => isNotRead(readEntry(field, one, context))) ?? text;
  const inAnotherUnit = column.unit !== null && column.unit !== context.unit;
  if ((typeof cell !== 'string' && !inAnotherUnit) || text === entryText(field, read.entry)) return null;
  if (texts.length === 1) return text;
  return texts.find((one) => sameEntry(readEntry(field, one, context).entry, read.entry)) ?? null;
}

function isNotRead({ entry, trouble }: ReadEntry): boolean {
  return entry === null && trouble !== null;
}

function sameEntry(a: Entry, b: Entry): boolean {
  return a === b || (typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a)));
}
