import type { FillValue } from '../formats/xlsx-package/assemble-xlsx.js';
import type { Value } from '../expressions/tree.js';
import { formatAsFound } from '../readings/as-found-text.js';
import { isoDateToSerial } from '../readings/date-serial.js';
import { dateTimeText } from '../readings/date-time-text.js';
import { entryText } from '../readings/entry-text.js';
import type { Field } from '../readings/field.js';
import type { Entry, Inspection } from '../readings/inspection.js';
import { cutCellText, LONGEST_CELL_TEXT } from '../util/cut-cell-text.js';
import { plainValue, type RawCell } from '../util/raw-table.js';

/** A number of seconds that the sheet's formulas read as it stands; below 1 it might be a part of a minute or of a day. */
const PLAIN_SECONDS = /^(?:0|[1-9]\d{0,4}(?:\.\d{1,2})?)$/;

/** True when the text as found stands in the entry cell itself: it could not be understood, or is a plain number of seconds. */
function standsInCell(field: Pick<Field, 'name' | 'kind'>, text: string, inspection: Inspection): boolean {
  return inspection.notRead.includes(field.name) || (field.kind === 'time' && PLAIN_SECONDS.test(text));
}

/** The cell of an entry: the number that was understood, or the text that was not. */
export function entryCell(field: Field, entry: Entry, inspection: Inspection): FillValue {
  const found = inspection.asFound.get(field.name);
  if (found !== undefined && standsInCell(field, found, inspection)) return found;
  if (entry === null) return null;
  if (field.kind === 'date') return isoDateToSerial(entry as string) ?? (entry as string);
  return typeof entry === 'number' && field.kind !== 'time' ? entry : entryText(field, entry);
}

/** The cell that keeps the texts as found, of those that do not stand in their own cells. */
export function foundCell(inspection: Inspection, fieldOf: (name: string) => Pick<Field, 'name' | 'kind'>): FillValue {
  if (inspection.asFound.size === 0) return null;
  const beside = foundThatFit(new Map([...inspection.asFound].filter(([name, text]) => !standsInCell(fieldOf(name), text, inspection))));
  return beside.size === 0 ? null : formatAsFound(beside);
}

/** Texts as found that one cell holds together; the longest are left out where it does not hold them all, for what each means stands in its own cell. */
export function foundThatFit(texts: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  let fit = texts;
  while (fit.size > 0 && !isShort(fit) && formatAsFound(fit).length > LONGEST_CELL_TEXT) {
    const longest = [...fit].reduce((a, b) => (b[1].length > a[1].length ? b : a))[0];
    fit = new Map([...fit].filter(([name]) => name !== longest));
  }
  return fit;
}

/** True where the texts fit into a cell however they are quoted. */
function isShort(texts: ReadonlyMap<string, string>): boolean {
  let length = 0;
  for (const [name, text] of texts) length += name.length + 6 * text.length + 6;
  return length <= LONGEST_CELL_TEXT;
}

/** The texts as found that a workbook keeps of an inspection, each as its cell has it. */
export function foundKept(inspection: Inspection, fieldOf: (name: string) => Pick<Field, 'name' | 'kind'>): ReadonlyMap<string, string> {
  const { asFound } = inspection;
  if (asFound.size === 0 || isShort(asFound)) return asFound;
  const inCell = (name: string, text: string): boolean => standsInCell(fieldOf(name), text, inspection);
  const beside = foundThatFit(new Map([...asFound].filter(([name, text]) => !inCell(name, text))));
  return new Map([...asFound].flatMap(([name, text]) => (inCell(name, text) ? [[name, cutCellText(text)] as const] : beside.has(name) ? [[name, text] as const] : [])));
}

/** The cell of a column that is not ours. A date or a time keeps its meaning as text. */
export function extraCell(cell: RawCell | undefined): FillValue {
  if (cell !== null && typeof cell === 'object') return dateTimeText(cell) ?? cell.value;
  const value = plainValue(cell);
  return value === '' ? null : value;
}

/** The stored result of a computed cell. */
export function computedCell(value: Value): FillValue {
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : value;
}
