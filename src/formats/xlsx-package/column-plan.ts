import { columnLetters } from '../../util/column-letters.js';
import { formulaAt, formulaPieces } from './formula-pieces.js';
import { defect, SHEET_LIMITS, unwritable } from './sheet-limits.js';
import type { SheetCell } from './sheet-rows.js';
import { xmlText } from './xml-text.js';

/** What is known beforehand about the cells of one column of a growing sheet. */
export interface ColumnPlan {
  /** `<c r="AB`, to be followed by the row number. */
  readonly open: string;
  /** What follows the row number: `"`, or `" s="5"`. */
  readonly style: string;
  readonly styled: boolean;
  /** The `f` element for a row; undefined for an entry column. */
  readonly formula: ((row: number) => string) | undefined;
}

/** Where the rows of a growing sheet lie. */
export interface GrowingRows {
  readonly sheet: string;
  /** The template row's number, and so the first data row's. */
  readonly first: number;
  readonly count: number;
  readonly share: boolean;
  /** Gives the next free index for a shared formula. */
  readonly nextShared: () => number;
}

/** The plan of a column. `cell` is the template's; without one the column has neither style nor formula. */
export function columnPlan(column: number, cell: SheetCell | undefined, rows: GrowingRows): ColumnPlan {
  const style = cell?.attributes['s'];
  return {
    open: `<c r="${columnLetters(column)}`,
    style: style === undefined ? '"' : `" s="${style}"`,
    styled: style !== undefined,
    formula: cell?.formula && rows.count > 0 ? formulaWriter(cell, rows) : undefined,
  };
}

function formulaWriter(cell: SheetCell, rows: GrowingRows): (row: number) => string {
  const { sheet, first, count } = rows;
  const formula = cell.formula ?? { text: '', type: undefined, ref: undefined };
  const letters = columnLetters(cell.column);
  const where = `sheet ${sheet}, cell ${letters}${first}`;
  const isArray = formula.type === 'array';
  if ((formula.type !== undefined && formula.type !== 'normal' && !isArray) || formula.text === '') {
    throw defect(where, 'the template row holds a formula of a kind that cannot grow', 'write it plainly or as an array formula');
  }
  if (isArray && formula.ref !== `${letters}${first}` && formula.ref !== `${letters}${first}:${letters}${first}`) {
    throw defect(where, 'the array formula of the template row covers more than its cell', 'give each cell its own');
  }
  const { pieces, shareable } = formulaPieces(formula.text, first);
  const last = first + count - 1;
  for (const row of [first, last]) {
    const text = formulaAt(pieces, row);
    if (text === undefined) {
      throw unwritable(sheet, cell.column, row, 'its formula points outside the sheet', 'write fewer rows to one workbook');
    }
    if (text.length > SHEET_LIMITS.formula) {
      const what = `its formula has ${text.length} characters, and a cell holds ${SHEET_LIMITS.formula}`;
      throw unwritable(sheet, cell.column, row, what, 'shorten the expression');
    }
  }
  const escaped = pieces.map((piece) => (typeof piece === 'string' ? xmlText(piece) : piece));
  if (rows.share && shareable && !isArray && count > 1) {
    const index = rows.nextShared();
    const range = `${letters}${first}:${letters}${last}`;
    const master = `<f t="shared" ref="${range}" si="${index}">${formulaAt(escaped, first)}</f>`;
    const follower = `<f t="shared" si="${index}"/>`;
    return (row) => (row === first ? master : follower);
  }
  if (isArray) return (row) => `<f t="array" ref="${letters}${row}">${formulaAt(escaped, row)}</f>`;
  return (row) => `<f>${formulaAt(escaped, row)}</f>`;
}
