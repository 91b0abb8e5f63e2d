import { wholeLetters } from '../../util/whole-letters.js';
import { xmlText } from './xml-text.js';

// Nearly all text has none of these: a character to escape, a surrogate, or an underscore before an x.
const NEEDS_CARE = /[\u0000-\u0008\u000b-\u001f&<>\ud800-\udfff\ufffe\uffff]|_x/;
const ESCAPED = /[\u0000-\u0008\u000b-\u001f\ufffe\uffff]/g;
// An underscore that a reader would take for the start of an escape, also when the closing underscore
// is the first character of an escape that is written next, here or of DEL in a template.
const LOOKS_ESCAPED = /_(?=x[0-9A-Fa-f]{4}[_\u0000-\u0008\u000b-\u001f\u007f\ufffe\uffff])/g;

/**
 * Text in the form of ST_Xstring (ECMA-376 Part 1, 22.9.2.19): a character that XML cannot carry, and the
 * carriage return, as `_xHHHH_`; an underscore that would be read as the start of such an escape as
 * `_x005F_`. A lone surrogate becomes U+FFFD, since no escape stands for half a character.
 *
 * @example escapeCellText('bell \u0007') // 'bell _x0007_'
 * @example escapeCellText('_x000D_') // '_x005F_x000D_'
 */
export function escapeCellText(text: string): string {
  if (!NEEDS_CARE.test(text)) return text;
  return wholeLetters(text)
    .replace(LOOKS_ESCAPED, '_x005F_')
    .replace(ESCAPED, (character) => `_x${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}_`);
}

/**
 * Text for a cell in sheet XML: {@link escapeCellText}, then the XML entities.
 *
 * @example cellText('0.5 < 1') // '0.5 &lt; 1'
 */
export function cellText(text: string): string {
  return NEEDS_CARE.test(text) ? xmlText(escapeCellText(text)) : text;
}
