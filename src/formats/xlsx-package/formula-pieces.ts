import { SHEET_LIMITS } from './sheet-limits.js';

/** A formula cut up so that it can be written for any row. */
export interface FormulaPieces {
  /** Text as it stands, and numbers: the distance in rows of a relative reference from the formula's own row. */
  readonly pieces: readonly (string | number)[];
  /**
   * Whether rows may share it. Excel does not: a relative reference to another sheet or a structured reference
   * in a shared formula damages the file, so it writes such formulas one by one.
   */
  readonly shareable: boolean;
}

// One alternative for each thing that must be passed over whole or looked into; tried in this order.
const TOKEN = new RegExp(
  [
    String.raw`(?<text>"(?:[^"]|"")*")`,
    String.raw`(?<sheet>(?:'(?:[^']|'')*'|[\p{L}_\\][\p{L}\p{M}\p{N}_.\\?]*(?::[\p{L}_\\][\p{L}\p{M}\p{N}_.\\?]*)?)!)`,
    // A structured reference or the number of another workbook; an apostrophe escapes a bracket.
    String.raw`(?<bracket>\[(?:'[\s\S]|[^\[\]']|\[(?:'[\s\S]|[^\[\]'])*\])*\])`,
    String.raw`(?<fault>#(?:NULL!|DIV/0!|VALUE!|REF!|NAME\?|NUM!|N/A|SPILL!|CALC!|GETTING_DATA))`,
    String.raw`(?<rows>\$?[0-9]+\s*:\s*\$?[0-9]+(?![\p{L}\p{N}_.]))`,
    String.raw`(?<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)`,
    String.raw`(?<word>[\p{L}_\\$][\p{L}\p{M}\p{N}_.$\\?]*)`,
    String.raw`(?<other>[\s\S])`,
  ].join('|'),
  'gu',
);
const CELL = /^(\$?)([A-Za-z]{1,3})(\$?)([1-9][0-9]{0,6})$/;
const WHOLE_COLUMN = /^\$?[A-Za-z]{1,3}$/;

/**
 * Cuts a formula at its relative row numbers. Passed over: strings, quoted and plain sheet names, names of functions
 * and of ranges, numbers, absolute rows, whole columns, structured references.
 *
 * @param formula without the leading `=`
 * @param row the 1-based row it is written for
 * @example formulaPieces('LOG10(A4)+$B$2', 4) // { pieces: ['LOG10(A', 0, ')+$B$2'], shareable: true }
 */
export function formulaPieces(formula: string, row: number): FormulaPieces {
  const pieces: (string | number)[] = [];
  let text = '';
  let shareable = true;
  let qualified = false;
  const putRow = (dollar: string, digits: string): void => {
    if (dollar !== '') {
      text += dollar + digits;
      return;
    }
    pieces.push(text, Number(digits) - row);
    text = '';
  };
  for (const match of formula.matchAll(TOKEN)) {
    const token = match[0];
    const { bracket, sheet, rows, word } = match.groups ?? {};
    if (bracket !== undefined) {
      shareable = false;
      text += token;
    } else if (sheet !== undefined) {
      qualified = true;
      text += token;
      continue;
    } else if (rows !== undefined) {
      if (qualified && !/^\$.*\$/.test(rows)) shareable = false;
      for (const part of rows.split(/(\$?[0-9]+)/)) {
        const number = /^(\$?)([0-9]+)$/.exec(part);
        if (number) putRow(number[1] ?? '', number[2] ?? '');
        else text += part;
      }
    } else if (word !== undefined) {
      const cell = formula[match.index + token.length] === '(' ? null : CELL.exec(word);
      if (cell && isCell(cell[2] ?? '', Number(cell[4]))) {
        if (qualified && !(cell[1] && cell[3])) shareable = false;
        text += `${cell[1]}${cell[2]}`;
        putRow(cell[3] ?? '', cell[4] ?? '');
      } else {
        if (qualified && !(WHOLE_COLUMN.test(word) && word.startsWith('$'))) shareable = false;
        text += word;
      }
    } else {
      text += token;
    }
    // The second corner of an area belongs to the same sheet as the first.
    if (token !== ':') qualified = qualified && formula[match.index + token.length] === ':';
  }
  if (text !== '') pieces.push(text);
  return { pieces, shareable };
}

function isCell(letters: string, row: number): boolean {
  let column = 0;
  for (const letter of letters.toUpperCase()) column = column * 26 + letter.charCodeAt(0) - 64;
  return column <= SHEET_LIMITS.columns && row <= SHEET_LIMITS.rows;
}

/**
 * Writes the formula for a row.
 *
 * @returns undefined when a reference would lie outside the sheet
 * @example formulaAt(['A', 0, '+A', -1], 7) // 'A7+A6'
 */
export function formulaAt(pieces: readonly (string | number)[], row: number): string | undefined {
  let formula = '';
  for (const piece of pieces) {
    if (typeof piece === 'string') {
      formula += piece;
      continue;
    }
    const target = row + piece;
    if (target < 1 || target > SHEET_LIMITS.rows) return undefined;
    formula += target;
  }
  return formula;
}
