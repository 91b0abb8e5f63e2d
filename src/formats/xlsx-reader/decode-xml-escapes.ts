import { wholeLetters } from '../../util/whole-letters.js';

/**
 * Text with the escapes `_xHHHH_`, by which a workbook holds characters that XML cannot (ECMA-376 Part 1, 22.9.2.19, ST_Xstring), put back; half a pair of surrogates becomes U+FFFD.
 *
 * @example decodeXmlEscapes('a_x000D_b_x005F_x000D_') // 'a\rb_x000D_'
 */
export function decodeXmlEscapes(text: string): string {
  if (!text.includes('_x')) return text;
  const decoded = text.replace(/_x([0-9A-Fa-f]{4})_/g, (_escape, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
  return decoded === text ? text : wholeLetters(decoded);
}
