import type { XlsxBook } from '../formats/read-xlsx.js';
import { quotedSheet } from '../formats/xlsx-package/sheet-reference.js';
import { normaliseFormula } from './normalise-formula.js';
import type { VerifyTally } from './verify-tally.js';

/** First and last row that the names of a sheet of readings cover. */
export interface CoveredRows {
  readonly first: number;
  readonly last: number;
}

const ANYWHERE = { row: 1, column: 1 };
const COLUMN_PART = /^'(READINGS(?: [0-9]+)?)'!r([0-9]+)(c[0-9]+)(?::r([0-9]+)(c[0-9]+))?$/;

/** The defined names of a workbook, whatever their case. */
export class BookNames {
  private readonly global = new Map<string, string>();
  private readonly local: { readonly sheet: string; readonly name: string; readonly reference: string }[] = [];

  constructor({ definedNames }: Pick<XlsxBook, 'definedNames'>) {
    for (const [full, reference] of definedNames) {
      const mark = full.lastIndexOf('!');
      if (mark < 0) this.global.set(full.toLowerCase(), reference);
      else this.local.push({ sheet: full.slice(0, mark), name: full.slice(mark + 1).toLowerCase(), reference });
    }
  }

  /** Where a name points, as it is written; null when there is no such name. */
  reference(name: string): string | null {
    return this.global.get(name.toLowerCase()) ?? null;
  }

  /** Tells of names that hold on one sheet only and hide one of these there. */
  verifyLocal(names: Iterable<string>, tally: VerifyTally): void {
    const ours = new Map([...names].map((name) => [name.toLowerCase(), name]));
    for (const { sheet, name, reference } of this.local) {
      const own = ours.get(name);
      if (own !== undefined) tally.add({ code: 'name_changed', sheet, column: own, found: `${reference}, on this sheet alone`, expected: this.reference(own) ?? 'one name for the whole workbook' });
    }
  }
}

/** Compares where a name of a single place points with where it should. */
export function verifyPlaceName(names: BookNames, name: string, expected: string, { sheet, cell }: { readonly sheet: string; readonly cell: string }, tally: VerifyTally): void {
  const found = names.reference(name);
  if (found === null || placeOf(found) !== placeOf(expected)) tally.add({ code: 'name_changed', sheet, cell, column: name, found: found ?? 'no such name', expected });
}

/** Where a reference points, in a form in which equal places are equal texts. */
export function placeOf(reference: string): string {
  return normaliseFormula(reference, ANYWHERE);
}

/** The rows that most of the names of a sheet of readings cover; null when there are no such names. */
export function coveredRows(names: BookNames, columnNames: Iterable<string>, sheet: string): CoveredRows | null {
  const counts = new Map<string, { readonly rows: CoveredRows; count: number }>();
  for (const name of columnNames) {
    const parts = COLUMN_PART.exec(placeOf(names.reference(name) ?? ''));
    if (parts?.[1] !== sheet.toUpperCase()) continue;
    const rows = { first: Number(parts[2]), last: Number(parts[4] ?? parts[2]) };
    const entry = counts.get(`${rows.first}:${rows.last}`);
    if (entry) entry.count += 1;
    else counts.set(`${rows.first}:${rows.last}`, { rows, count: 1 });
  }
  let best: { readonly rows: CoveredRows; count: number } | null = null;
  for (const entry of counts.values()) if (best === null || entry.count > best.count) best = entry;
  return best?.rows ?? null;
}

/**
 * Compares where each name of a column of a sheet of readings points with the column that holds it.
 *
 * @param lettersOf the letters of the column that a name stands for; null when the workbook lacks it
 */
export function verifyColumnNames(names: BookNames, columns: ReadonlyMap<string, string | null>, { first, last }: CoveredRows, sheet: string, tally: VerifyTally): void {
  const on = quotedSheet(sheet);
  for (const [name, letters] of columns) {
    if (letters === null) continue;
    const expected = `${on}!$${letters}$${first}${first === last ? '' : `:$${letters}$${last}`}`;
    const found = names.reference(name);
    const places = [expected, `${on}!$${letters}$${first}:$${letters}$${last}`].map(placeOf);
    if (found !== null && places.includes(placeOf(found))) continue;
    tally.add({ code: 'name_changed', sheet, column: name, found: found ?? 'no such name', expected });
  }
}
