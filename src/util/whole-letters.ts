const LONE_SURROGATE = /\p{Surrogate}/gu;

/**
 * A text with U+FFFD for each half of a surrogate pair that stands alone, which no file can hold.
 *
 * @example wholeLetters('a\ud800b') // 'a\ufffdb'
 */
export function wholeLetters(text: string): string {
  return text.replace(LONE_SURROGATE, '\ufffd');
}
