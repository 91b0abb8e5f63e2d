/**
 * A text without line breaks, control characters and marks of direction, each run of them a space: in a line that is printed they
 * could move the cursor of a terminal, or show words in another order.
 *
 * @example plainLine('T\u001b[2J1') // 'T [2J1'
 */
export function plainLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]+/gu, ' ');
}
