import type { FillValue } from '../formats/xlsx-package/assemble-xlsx.js';
import type { Value } from '../expressions/tree.js';
import { formatAsFound } from '../readings/as-found-text.js';
import { dateFormatKind } from '../readings/date-format-kind.js';
import { isoDateToSerial, serialToIsoDate } from '../readings/date-serial.js';
import { entryText } from '../readings/entry-text.js';
import type { Field } from '../readings/field.js';
import type { Entry, Inspection } from '../readings/inspection.js';
import { plainValue, type RawCell } from '../util/raw-table.js';

/** A time that the sheet's formulas read as it stands. */
const PLAIN_TIME = /^\d+(\.\d+)?$/;

/** True when the text as found stands in the entry cell itself: it could not be understood, or is a plain number of seconds. */
export function standsInCell(name: string, text: string, inspection: Inspection, kind: Field['kind'] | undefined): boolean {
  return inspection.notRead.includes(name) || (kind === 'time' && PLAIN_TIME.test(text));
}

/** The cell of an entry: the number that was understood, or the text that was not. */
export function entryCell(field: Field, entry: Entry, inspection: Inspection): FillValue {
  const found = inspection.asFound.get(field.name);
  if (found !== undefined && standsInCell(field.name, found, inspection, field.kind)) return found;
  if (entry === null) return null;
  if (field.kind === 'date') return isoDateToSerial(entry as string) ?? (entry as string);
  return typeof entry === 'number' && field.kind !== 'time' ? entry : entryText(field, entry);
}

/** The cell that keeps the texts as found, of those that do not stand in their own cells. */
export function foundCell(inspection: Inspection): FillValue {
  if (inspection.asFound.size === 0) return null;
  const beside = [...inspection.asFound].filter(([name, text]) => !inspection.notRead.includes(name) && !(PLAIN_TIME.test(text) && name.endsWith('_time')));
  return beside.length === 0 ? null : formatAsFound(new Map(beside));
}

/** The cell of a column that is not ours. A date keeps its meaning as text. */
export function extraCell(cell: RawCell | undefined): FillValue {
  if (cell !== null && typeof cell === 'object') {
    const date = dateFormatKind(cell.format).date ? serialToIsoDate(cell.value, false) : null;
    return date ?? cell.value;
  }
  const value = plainValue(cell);
  return value === '' ? null : value;
}

/** The stored result of a computed cell. */
export function computedCell(value: Value): FillValue {
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : value;
}
