import { columnLetters } from '../../util/column-letters.js';

/** One end of a reference: what is fixed by `$` stays, the rest moves. */
interface Place {
  readonly fixed: boolean;
  /** Counted from 1. */
  readonly at: number;
}

type Part = string | { readonly column: Place | null; readonly row: Place | null };

const COLUMNS = 16_384;
const ROWS = 1_048_576;

// In turn: text, a quoted sheet name, brackets (another workbook or a table), whole columns, whole rows, a cell.
const TOKEN = new RegExp(
  [
    String.raw`"(?:[^"]|"")*"`,
    String.raw`'(?:[^']|'')*'`,
    String.raw`\[(?:[^\[\]]|\[[^\[\]]*\])*\]`,
    String.raw`(?<![\p{L}\p{N}_.$\\?])(?:(?<c1>\$?[A-Za-z]{1,3}):(?<c2>\$?[A-Za-z]{1,3})|(?<r1>\$?\d{1,7}):(?<r2>\$?\d{1,7})|(?<c>\$?[A-Za-z]{1,3})(?<r>\$?\d{1,7}))(?![\p{L}\p{N}_.(!$\\?])`,
  ].join('|'),
  'gu',
);

/**
 * A formula taken apart once, to be written for any cell that shares it: references without `$` move by as many rows and
 * columns as the cell lies from the first one. A reference that would leave the sheet becomes `#REF!`.
 *
 * @param formula the formula of the first cell, without `=`
 * @returns a function of the distance, in rows and columns
 * @example shiftFormula('SUM(A1:$B$2)*"A1"')(1, 2) // 'SUM(C2:$B$2)*"A1"'
 */
export function shiftFormula(formula: string): (rows: number, columns: number) => string {
  const parts = takeApart(formula);
  return (rows, columns) => parts.map((part) => (typeof part === 'string' ? part : move(part, rows, columns))).join('');
}

function takeApart(formula: string): Part[] {
  const parts: Part[] = [];
  let end = 0;
  for (const match of formula.matchAll(TOKEN)) {
    const { c1, c2, r1, r2, c, r } = match.groups ?? {};
    const references = c1 && c2 ? [[c1, ''], [c2, '']] : r1 && r2 ? [['', r1], ['', r2]] : c && r ? [[c, r]] : [];
    const places = references.map(([column = '', row = '']) => reference(column, row));
    if (places.length === 0 || places.includes(null)) continue;
    parts.push(formula.slice(end, match.index));
    places.forEach((place, index) => parts.push(index === 0 ? '' : ':', place ?? ''));
    end = match.index + match[0].length;
  }
  parts.push(formula.slice(end));
  return parts;
}

/** Null where the letters or digits lie beyond the sheet, so that they are some other name. */
function reference(column: string, row: string): Part | null {
  const columnAt = [...column.replace('$', '').toUpperCase()].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0);
  const rowAt = Number(row.replace('$', ''));
  if (columnAt > COLUMNS || rowAt > ROWS || (row !== '' && rowAt < 1)) return null;
  return {
    column: column === '' ? null : { fixed: column.startsWith('$'), at: columnAt },
    row: row === '' ? null : { fixed: row.startsWith('$'), at: rowAt },
  };
}

function move(part: Exclude<Part, string>, rows: number, columns: number): string {
  const column = movePlace(part.column, columns, COLUMNS);
  const row = movePlace(part.row, rows, ROWS);
  if (column === null || row === null) return '#REF!';
  const letters = part.column === null ? '' : `${part.column.fixed ? '$' : ''}${columnLetters(column - 1)}`;
  const digits = part.row === null ? '' : `${part.row.fixed ? '$' : ''}${row}`;
  return letters + digits;
}

function movePlace(place: Place | null, by: number, limit: number): number | null {
  if (place === null) return 0;
  const at = place.fixed ? place.at : place.at + by;
  return at >= 1 && at <= limit ? at : null;
}
