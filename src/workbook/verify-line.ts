import type { StoredFormula, StoredRow } from '../formats/read-xlsx.js';
import { shiftFormula } from '../formats/xlsx-reader/shift-formula.js';
import { columnLetters } from '../util/column-letters.js';
import { plainValue } from '../util/raw-table.js';
import { normaliseFormula } from './normalise-formula.js';
import type { FindingCode } from './verify-finding.js';
import { sameContent, showContent, showFormula, type CellContent, type VerifyTally } from './verify-tally.js';

/** A row of a sheet: what its cells hold, and their formulas. */
export interface Line {
  readonly number: number;
  readonly values: readonly CellContent[];
  readonly formulas: readonly (StoredFormula | null)[];
}

/** A row of the workbook as a line. */
export function lineOf({ number, cells, formulas }: StoredRow): Line {
  return { number, values: cells.map((cell) => plainValue(cell)), formulas };
}

/** True where a line holds nothing, or nothing in its first columns. */
export function isBlankLine({ values, formulas }: Line, width = Infinity): boolean {
  return values.slice(0, width).every((value) => value === null || value === '') && formulas.slice(0, width).every((formula) => formula === null);
}

const normalForms = new WeakMap<StoredFormula, string>();

/** What a formula means, independent of the row it stands in. */
export function normalForm(formula: StoredFormula): string {
  let normal = normalForms.get(formula);
  if (normal === undefined) normalForms.set(formula, (normal = normaliseFormula(formula.text, formula)));
  return normal;
}

/** A formula that was not touched has the same text in the same place, which is quicker to see than what it means. */
function sameMeaning(a: StoredFormula, b: StoredFormula): boolean {
  return (a.text === b.text && a.row === b.row && a.column === b.column) || normalForm(a) === normalForm(b);
}

/** How to compare a line. */
export interface LineOptions {
  readonly sheet: string;
  readonly tally: VerifyTally;
  /** The code of a constant that differs. */
  readonly constant: FindingCode;
  /** What the column of an index is called. */
  readonly columnName?: (index: number) => string;
  /** Columns (0-based) that are looked at elsewhere. */
  readonly except?: ReadonlySet<number>;
  /** Whether values that no formula gives are compared; they are, unless told. */
  readonly constants?: boolean;
  /** Whether the stored values of formulas are compared; they are, unless told. */
  readonly results?: boolean;
}

/** Compares a line with the one that belongs in its place. */
export function verifyLine(expected: Line, found: Line, options: LineOptions): void {
  for (let index = 0; index < Math.max(expected.values.length, expected.formulas.length); index++) {
    if (!options.except?.has(index)) verifyCell(expected, found, index, options);
  }
}

function verifyCell(expected: Line, found: Line, index: number, { sheet, tally, constant, columnName, constants = true, results = true }: LineOptions): void {
  const [wanted, formula] = [expected.formulas[index] ?? null, found.formulas[index] ?? null];
  const [right, value] = [expected.values[index] ?? null, found.values[index] ?? null];
  const place = { sheet, cell: columnLetters(index) + found.number, column: columnName?.(index) ?? '' };
  if (wanted !== null) {
    tally.formulasCompared += 1;
    const belongs = (): string => showFormula({ text: shiftFormula(wanted.text)(found.number - wanted.row, 0) });
    if (formula === null) tally.add({ code: 'formula_replaced', ...place, found: showContent(value), expected: belongs() });
    else if (!sameMeaning(formula, wanted)) tally.add({ code: 'formula_changed', ...place, found: foundFormula(formula, found.number, index), expected: belongs() });
    else if (results) tally.compareStored(sheet, place.column, index, found.number, value, right);
    return;
  }
  if (right === null && value === null && formula === null) return;
  tally.cellsCompared += 1;
  if (formula !== null) tally.add({ code: 'formula_added', ...place, found: foundFormula(formula, found.number, index), expected: showContent(right) });
  else if (constants && !sameContent(value, right)) tally.add({ code: constant, ...place, found: showContent(value), expected: showContent(right) });
}

/** A formula as it stands in a cell, written out where it is shared. */
export function foundFormula(formula: StoredFormula, row: number, index: number): string {
  return showFormula({ text: shiftFormula(formula.text)(row - formula.row, index + 1 - formula.column) });
}
