import type { Dictionary } from '../readings/dictionary.js';
import { serialToIsoDate } from '../readings/date-serial.js';
import type { Field } from '../readings/field.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Entry, Inspection } from '../readings/inspection.js';
import { entryText } from '../readings/entry-text.js';
import type { CellContent } from './verify-tally.js';

/** A cell as the formulas of the sheet read it: an entry, and whether it counts as not understood. */
interface ReadByFormula {
  readonly entry: Entry;
  readonly notRead: boolean;
}

const BLANK: ReadByFormula = { entry: null, notRead: false };

/**
 * An inspection as the formulas of the sheet read its cells. Import understands more of what people type than a formula can:
 * a pressure with its unit, a date in words. Where such a text stands in an entry cell, the sheet calls it not understood, and
 * that is right for the sheet.
 *
 * @param inspection as it was imported, for texts and times
 * @param cells the row's cells
 * @param secondsOf the stored seconds of a time field
 */
export function entriesOfSheet(inspection: Inspection, cells: readonly CellContent[], columns: readonly ColumnRole[], dictionary: Dictionary, secondsOf: (field: string) => CellContent): Inspection {
  const values: Entry[] = new Array<Entry>(dictionary.fields.length).fill(null);
  const notRead: string[] = [];
  for (const [index, column] of columns.entries()) {
    if (column.role !== 'field') continue;
    const field = dictionary.fields[column.position]!;
    const cell = cells[index] ?? null;
    const { entry, notRead: not } = cell === null || cell === '' ? BLANK : readByFormula(field, cell, inspection, column.position, secondsOf);
    values[column.position] = entry;
    if (not) notRead.push(field.name);
  }
  return { ...inspection, values, notRead };
}

function readByFormula(field: Field, cell: Exclude<CellContent, null>, inspection: Inspection, position: number, secondsOf: (field: string) => CellContent): ReadByFormula {
  const imported: ReadByFormula = { entry: inspection.values[position] ?? null, notRead: inspection.notRead.includes(field.name) };
  switch (field.kind) {
    case 'text':
      return imported;
    case 'time':
      return beyondTheFormula(field, cell, imported.entry, secondsOf(field.name)) ? { entry: null, notRead: true } : imported;
    case 'choice':
      return chosen(field.choices!, cell);
    case 'yes_no': {
      const { entry, notRead } = chosen(['yes', 'no'], cell);
      return { entry: entry === null ? null : String(entry).toLowerCase() === 'yes', notRead };
    }
    case 'date':
      return typeof cell === 'number' ? { entry: serialToIsoDate(cell, false), notRead: false } : { entry: null, notRead: typeof cell === 'string' };
    default:
      if (typeof cell === 'number') return { entry: cell, notRead: false };
      if (field.never && typeof cell === 'string' && cell.toLowerCase() === 'never') return { entry: 'never', notRead: false };
      return { entry: null, notRead: typeof cell === 'string' };
  }
}

/** A word of a list, in the case that it was typed in; spreadsheets compare without regard to case. */
function chosen(words: readonly string[], cell: Exclude<CellContent, null>): ReadByFormula {
  const isOne = typeof cell === 'string' && words.some((one) => one.toLowerCase() === cell.toLowerCase());
  return isOne ? { entry: cell, notRead: false } : { entry: null, notRead: true };
}

/** True for a time in words that only import understands: it is not as the program writes it, and the sheet has no seconds of it. */
function beyondTheFormula(field: Field, cell: Exclude<CellContent, null>, entry: Entry, seconds: CellContent): boolean {
  return typeof cell === 'string' && entry !== null && cell !== entryText(field, entry) && seconds === '';
}
