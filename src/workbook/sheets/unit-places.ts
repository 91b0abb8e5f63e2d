import { columnLetters } from '../../util/column-letters.js';
import type { UnitFormula } from './unit-formulas.js';

/** The sheet's name. */
export const UNITS_SHEET = 'Units';
/** The row of the column titles of the sheet Units; its units stand below. */
export const UNITS_TITLE_ROW = 6;
/** The first row with a unit. */
export const UNITS_FIRST_ROW = UNITS_TITLE_ROW + 1;
/** The title of what is said of a slow build-up, here and on Open work. */
export const BUILDUP_TITLE = 'Build-up and leak (computed on writing; diagnosis, never the verdict)';
/** Rows for units in a blank workbook. */
export const BLANK_UNITS = 60;

/** Where the columns of the sheet Units stand. */
export interface UnitPlaces {
  readonly lettersOf: (name: string) => string;
  readonly lastRow: number;
}

/** The places of columns that stand one after the other from column A on; an empty name is a column that is left free. */
export function unitPlaces(names: readonly string[], rowCount: number): UnitPlaces {
  const letters = new Map(names.map((name, index) => [name, columnLetters(index)]));
  return { lettersOf: (name) => letters.get(name)!, lastRow: UNITS_FIRST_ROW + rowCount - 1 };
}

/** All rows of a column of the sheet Units, `$A$7:$A$66`. */
export function unitRange({ lettersOf, lastRow }: UnitPlaces, name: string): string {
  const letters = lettersOf(name);
  return `$${letters}$${UNITS_FIRST_ROW}:$${letters}$${lastRow}`;
}

/** A formula of the sheet Units as it stands in the first row with a unit; see {@link UnitFormula} for its braces. */
export function placedFormula({ text }: UnitFormula, places: UnitPlaces): string {
  return text.replace(/\{(\w*)([:^]?)\}/g, (_, name: string, kind: string) => {
    if (name === '') return `$A$${UNITS_TITLE_ROW}`;
    if (kind === ':') return unitRange(places, name);
    return `$${places.lettersOf(name)}${kind === '^' ? `$${UNITS_TITLE_ROW}` : UNITS_FIRST_ROW}`;
  });
}
