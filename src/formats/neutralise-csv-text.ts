/** What a formula starts with, in either width: `=`, `+`, `-`, `@`. */
const SIGN = String.raw`[=+\-@＝＋－＠]`;
/** Spaces of a line; a spreadsheet program may drop those at the start of a cell. */
const SPACES = String.raw`[^\S\t\r\n]*`;
/** What parts cells in one program or another, whatever this file is written with. */
const PARTS = String.raw`[,;|\t\r\n]`;
const PLAIN_NUMBER = String.raw`${SPACES}[+-]\d+(?:[.,]\d+)?`;

/** At the start of the text, and behind what may part cells: where a formula would start, apostrophes before it or not. */
const AT_START = String.raw`'*${SPACES}(?:${SIGN}|[\t\r\n\0])`;
const AT_PART = String.raw`'*${SIGN}`;
const FORMULA_STARTS = new RegExp(String.raw`^(?!${PLAIN_NUMBER}$)(?=${AT_START})|(?<=${PARTS})(?!${PLAIN_NUMBER}(?:$|${PARTS}))(?=${AT_PART})`, 'gu');
const NEUTRALISED = new RegExp(String.raw`^'(?=${AT_START})|(?<=${PARTS})'(?=${AT_PART})`, 'gu');
/** Nearly all text has none of these. */
const NEEDS_CARE = /[=+\-@＝＋－＠\t\r\n\0]/;

/**
 * Text that a spreadsheet would take for a formula, with an apostrophe before it so that it stays text.
 * That is text whose first character, after any apostrophes and spaces, is `=`, `+`, `-`, `@`, one of these in full width, tab, line
 * break or NUL; and text in which such a sign stands behind a comma, semicolon, bar, tab or line break, where a program that parts the
 * cells of the file otherwise would begin a cell (CWE-1236; OWASP ASVS 5.0, 1.2.10; OWASP, "CSV Injection"). A plain signed number
 * such as `-12.5` is left as it is: it can do nothing but be a number.
 *
 * @example neutraliseCsvText('=1+1') // "'=1+1"
 * @example neutraliseCsvText("'=1+1") // "''=1+1"
 * @example neutraliseCsvText('hose;=1+1') // "hose;'=1+1"
 * @example neutraliseCsvText('-12.5') // '-12.5'
 */
export function neutraliseCsvText(text: string): string {
  return NEEDS_CARE.test(text) ? text.replace(FORMULA_STARTS, "'") : text;
}

/**
 * The text before `neutraliseCsvText`: one apostrophe fewer where apostrophes stand before what would start a formula.
 *
 * @example restoreCsvText("'=1+1") // '=1+1'
 * @example restoreCsvText("'tis") // "'tis"
 */
export function restoreCsvText(text: string): string {
  return text.includes("'") && NEEDS_CARE.test(text) ? text.replace(NEUTRALISED, '') : text;
}
