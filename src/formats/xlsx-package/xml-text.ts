import { wholeLetters } from '../../util/whole-letters.js';

// Characters that XML 1.0 does not allow (https://www.w3.org/TR/xml/#charsets), without the surrogates.
const NOT_XML = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;
const PLAIN = /^[\u0020-\u0025\u0027-\u003b=\u003f-\ud7ff\ue000-\ufffd]*$/;

function entity(character: string): string {
  if (character === '&') return '&amp;';
  if (character === '<') return '&lt;';
  if (character === '>') return '&gt;';
  if (character === '"') return '&quot;';
  return `&#${character.charCodeAt(0)};`;
}

/**
 * Escapes text for the content of an XML element. Characters that XML does not allow become U+FFFD.
 *
 * @example xmlText('a < b') // 'a &lt; b'
 */
export function xmlText(text: string): string {
  if (PLAIN.test(text)) return text;
  return wholeLetters(text.replace(NOT_XML, '\ufffd')).replace(/[&<>\r]/g, entity);
}

/**
 * Escapes text for an XML attribute in double quotes. Characters that XML does not allow become U+FFFD.
 *
 * @example xmlAttribute('the "worst" unit') // 'the &quot;worst&quot; unit'
 */
export function xmlAttribute(text: string): string {
  return wholeLetters(text.replace(NOT_XML, '\ufffd')).replace(/[&<>"\t\n\r]/g, entity);
}
