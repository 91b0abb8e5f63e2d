import { TreadlebookError } from '../util/treadlebook-error.js';
import type { LimitSet } from './limit-set.js';

/** Control characters but for the line feed, halves of a surrogate pair, U+FFFE and U+FFFF; and what a workbook reads as the code of a character (ECMA-376 Part 1, 22.9.2.19). */
const UNWRITABLE = /[\u0000-\u0009\u000b-\u001f\u007f\ufffe\uffff]|\p{Surrogate}|_x[0-9a-f]{4}_/iu;

/**
 * Refuses a limit set with a text that a workbook cannot hold as it stands. The texts of a set stand in formulas too, where
 * nothing can be written for such a character.
 *
 * @throws TreadlebookError `limit_set_invalid` with the place
 * @example refuseUnwritableText({ ...set, title: 'Our\u0007 limits' }) // throws: title holds the character U+0007
 */
export function refuseUnwritableText(set: LimitSet): void {
  look(set, '');
}

function look(value: unknown, place: string): void {
  if (typeof value === 'string') {
    const found = UNWRITABLE.exec(value)?.[0];
    if (found === undefined) return;
    const what = found.length > 1 ? `the letters ${found}, which a workbook reads as one character` : `the character U+${found.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`;
    throw new TreadlebookError({ code: 'limit_set_invalid', where: place, what: `the text holds ${what}`, mend: 'take it out' });
  }
  if (value === null || typeof value !== 'object') return;
  for (const [key, inside] of Object.entries(value)) look(inside, place === '' ? key : `${place}.${key}`);
}
