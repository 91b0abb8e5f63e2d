import { parseCellPosition } from '../formats/xlsx-reader/cell-position.js';

/** The cell that a formula is written for, both counted from 1. */
export interface FormulaPlace {
  readonly row: number;
  readonly column: number;
}

const WORD = String.raw`[\p{L}_\\][\p{L}\p{M}\p{N}_.\\?]*`;

// Tried in this order; what nothing else takes is an operator, a bracket or a comma. The flag i would take the sign of the
// kelvin and a long s for letters of a column.
const TOKEN = new RegExp(
  [
    String.raw`(?<text>"(?:[^"]|"")*")`,
    String.raw`\$?'(?<quoted>(?:[^']|'')*)'!`,
    String.raw`\$?(?<sheet>${WORD}(?::${WORD})?)!`,
    String.raw`(?<fault>#(?:[Nn][Uu][Ll][Ll]!|[Dd][Ii][Vv]/0!|[Vv][Aa][Ll][Uu][Ee]!|[Rr][Ee][Ff]!|[Nn][Aa][Mm][Ee]\?|[Nn][Uu][Mm]!|[Nn]/[Aa]))`,
    String.raw`(?<rows>\$?[1-9][0-9]*:\$?[1-9][0-9]*)(?![\p{L}\p{N}_.(])`,
    String.raw`(?<cell>\$?[A-Za-z]{1,3}\$?[1-9][0-9]{0,6})(?![\p{L}\p{N}_.\\?(])`,
    String.raw`(?<columns>\$?[A-Za-z]{1,3}:\$?[A-Za-z]{1,3})(?![\p{L}\p{N}_.\\?(!])`,
    String.raw`(?<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)`,
    String.raw`(?<truth>(?:[Tt][Rr][Uu][Ee]|[Ff][Aa][Ll][Ss][Ee])\s*\(\s*\))`,
    String.raw`(?<word>${WORD})`,
    String.raw`(?<space>\s+)`,
    String.raw`(?<sign><>|<=|>=|[\s\S])`,
  ].join('|'),
  'guy',
);
/** Characters that begin no other token, and are the most of a formula: they need no search. */
const SIGNS: ReadonlySet<string> = new Set('(),;{}+-*/^&=%:');
/** Ends with the name of a function. */
const CALLED = /[\p{L}\p{N}_.]$/u;
/** Before the names of functions that came after the first edition of the file format. */
const NEWER_FUNCTION = /^(?:_xlfn\.|_xlws\.)+/i;

/**
 * A formula as a text in which only meaning counts: two formulas that a spreadsheet program may write for one another give
 * the same text. Spaces that are no intersection, the case of names, prefixes of newer functions, quotes around sheet
 * names, `TRUE()` for `TRUE`, the spelling of numbers and their digits beyond the fifteenth make no difference. A
 * reference without `$` is written as its distance from the cell, so that the formulas of a column that was filled down
 * are equal.
 *
 * @param place the cell that the text is written for
 * @example normaliseFormula("if( $b4>1E3, FALSE(), 'Limits'!$E$5 )", { row: 4, column: 1 }) // "IF(r[0]c2>1000,FALSE,'LIMITS'!r5c5)"
 */
export function normaliseFormula(formula: string, place: FormulaPlace): string {
  const written = withoutBraces(formula);
  let normal = '';
  let spaced = false;
  let afterOperand = false;
  for (let at = 0; at < written.length; ) {
    const first = written[at]!;
    let [token, isOperand, opens, isSheet] = [first, false, first === '(' || first === '{', false];
    if (SIGNS.has(first)) {
      at += 1;
    } else {
      TOKEN.lastIndex = at;
      const { 0: found, groups = {} } = TOKEN.exec(written)!;
      at = TOKEN.lastIndex;
      if (groups['space'] !== undefined) {
        spaced = true;
        continue;
      }
      isOperand = groups['sign'] === undefined;
      opens = isOperand || first === '"';
      isSheet = groups['quoted'] !== undefined || groups['sheet'] !== undefined;
      token = normalToken(found, groups, place);
    }
    if (spaced && afterOperand && opens && !(first === '(' && CALLED.test(normal))) normal += ' ';
    normal += token;
    spaced = false;
    afterOperand = isOperand ? !isSheet : first === ')' || first === '}' || first === '%';
  }
  return normal;
}

function withoutBraces(formula: string): string {
  const text = formula.trim();
  const inside = text.startsWith('{=') && text.endsWith('}') ? text.slice(1, -1) : text;
  return inside.startsWith('=') ? inside.slice(1) : inside;
}

function normalToken(token: string, { text, quoted, sheet, rows, cell, columns, number, truth, word }: Record<string, string | undefined>, place: FormulaPlace): string {
  if (text !== undefined) return text;
  if (quoted !== undefined || sheet !== undefined) return `'${(quoted?.replaceAll("''", "'") ?? sheet!).toUpperCase()}'!`;
  if (rows !== undefined) return rows.split(':').map((row) => `r${distance(row, Number(row.replace('$', '')), place.row)}`).join(':');
  if (columns !== undefined) return columns.split(':').map((column) => `c${distance(column, columnNumber(column), place.column)}`).join(':');
  if (cell !== undefined) return normalCell(cell, place);
  if (number !== undefined) return String(Number(Number(number).toPrecision(15)));
  if (truth !== undefined) return truth.slice(0, truth.search(/[\s(]/)).toUpperCase();
  if (word !== undefined) return word.replace(NEWER_FUNCTION, '').toUpperCase();
  return token.toUpperCase();
}

function normalCell(cell: string, place: FormulaPlace): string {
  const [, column = '', row = ''] = /^(\$?[A-Z]+)(\$?[0-9]+)$/i.exec(cell)!;
  return `r${distance(row, Number(row.replace('$', '')), place.row)}c${distance(column, columnNumber(column), place.column)}`;
}

/** A place that `$` fixes as it stands, any other as its distance. */
function distance(written: string, at: number, from: number): string {
  return written.startsWith('$') ? String(at) : `[${at - from}]`;
}

function columnNumber(written: string): number {
  return parseCellPosition(`${written.replace('$', '')}1`)!.column;
}

/**
 * A formula for a sheet whose columns stand elsewhere.
 *
 * @param lettersOf the letters of the column that took the place of a column, by the letters it had
 * @example movedColumns('$B4&Limits!$B$2', (letters) => (letters === 'B' ? 'D' : letters)) // '$D4&Limits!$B$2'
 */
export function movedColumns(formula: string, lettersOf: (letters: string) => string): string {
  let ofOtherSheet = false;
  return formula.replace(TOKEN, (...match) => {
    const token = match[0] as string;
    const { quoted, sheet, cell } = match.at(-1) as Record<string, string | undefined>;
    const moved = cell === undefined || ofOtherSheet ? token : cell.replace(/[A-Z]+/i, (letters) => lettersOf(letters.toUpperCase()));
    ofOtherSheet = quoted !== undefined || sheet !== undefined || (ofOtherSheet && (token === ':' || cell !== undefined));
    return moved;
  });
}

/**
 * A formula for a workbook in which rows were put in above: rows fixed by `$` stand further down, the others move with
 * the cell.
 *
 * @param sheet the sheet that the formula stands on
 * @param movedBy how many rows further down the rows of a sheet stand, by the sheet's name
 * @example movedRows('A$2+Units!$B$7', 'Trend', (sheet) => (sheet === 'Units' ? 3 : 0)) // 'A$2+Units!$B$10'
 */
export function movedRows(formula: string, sheet: string, movedBy: (sheet: string) => number): string {
  let at = sheet;
  return formula.replace(TOKEN, (...match) => {
    const token = match[0] as string;
    const { quoted, sheet: named, cell } = match.at(-1) as Record<string, string | undefined>;
    const moved = cell === undefined ? token : cell.replace(/\$([0-9]+)$/, (_, row: string) => `$${Number(row) + movedBy(at)}`);
    at = quoted?.replaceAll("''", "'") ?? named ?? (at !== sheet && (token === ':' || cell !== undefined) ? at : sheet);
    return moved;
  });
}
