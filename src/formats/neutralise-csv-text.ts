const FORMULA_START = /^'*[=+\-@\t\r\0]/;
const NEUTRALISED = /^'+[=+\-@\t\r\0]/;
const PLAIN_NUMBER = /^[+-]\d+(?:[.,]\d+)?$/;

/**
 * Text that a spreadsheet would take for a formula, with an apostrophe before it so that it stays text.
 * That is text whose first character, after any apostrophes, is `=`, `+`, `-`, `@`, tab, carriage return or NUL
 * (CWE-1236; OWASP ASVS 5.0, 1.2.10). A plain signed number such as `-12.5` is left as it is: it can do nothing but be a number.
 *
 * @example neutraliseCsvText('=1+1') // "'=1+1"
 * @example neutraliseCsvText("'=1+1") // "''=1+1"
 * @example neutraliseCsvText('-12.5') // '-12.5'
 */
export function neutraliseCsvText(text: string): string {
  return FORMULA_START.test(text) && !PLAIN_NUMBER.test(text) ? `'${text}` : text;
}

/**
 * The text before `neutraliseCsvText`: one apostrophe fewer where apostrophes stand before such a character.
 *
 * @example restoreCsvText("'=1+1") // '=1+1'
 * @example restoreCsvText("'tis") // "'tis"
 */
export function restoreCsvText(text: string): string {
  return text.charCodeAt(0) === 0x27 && NEUTRALISED.test(text) ? text.slice(1) : text;
}
