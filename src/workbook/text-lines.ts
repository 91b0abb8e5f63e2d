/** Widths of Arial in parts of its size, roughly by kind of letter, from the metrics of the font (AFM of Helvetica, which Arial shares). */
const WIDTHS: readonly (readonly [RegExp, number])[] = [
  [/[iljI|'.,:;!/\\[\]()ft ]/u, 0.28],
  [/[r\-"`*°]/u, 0.34],
  [/[ckvxyszJ]/u, 0.5],
  [/[mwMWQOGCDHNURK%@&]/u, 0.8],
  [/[A-Z<>+=~–—…]/u, 0.67],
];
const USUAL = 0.556;
const BOLD = 1.08;

/** The width in points that a line of text takes in Arial, within a few per cent. */
export function textWidth(text: string, size: number, bold = false): number {
  let width = 0;
  for (const letter of text) width += (letter.codePointAt(0)! > 0x2e7f ? 1 : (WIDTHS.find(([kind]) => kind.test(letter))?.[1] ?? USUAL)) * size;
  return bold ? width * BOLD : width;
}

/**
 * How many lines a text takes when it is wrapped at spaces, and within a word that is wider than the cell.
 *
 * @param width in points
 * @example textLines('brakes released', 40, 10) // 2
 */
export function textLines(text: string, width: number, size: number, bold = false): number {
  let lines = 0;
  for (const paragraph of text.split('\n')) {
    lines += 1;
    let used = 0;
    for (const word of paragraph.split(' ')) {
      const needed = textWidth(word, size, bold);
      if (used > 0 && used + needed > width) {
        lines += 1;
        used = 0;
      }
      if (needed > width) lines += Math.ceil(needed / width) - 1;
      used += (needed > width ? needed % width : needed) + textWidth(' ', size, bold);
    }
  }
  return lines;
}
