/** The engine copies shorter parts anyway. */
const SHORTEST_PART = 13;

/**
 * A copy of a text that stands for itself. A part cut out of a long text keeps the whole of it in memory for as long as the
 * part is kept.
 *
 * @example ownText(line.slice(0, 20)) // the same text, without the line
 */
export function ownText(text: string): string {
  if (text.length < SHORTEST_PART) return text;
  // One byte a character where that holds it.
  const encoding = /^[\0-\xff]*$/.test(text) ? 'latin1' : 'utf16le';
  return Buffer.from(text, encoding).toString(encoding);
}
