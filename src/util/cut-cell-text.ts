/** The most characters that a cell of a workbook holds (Microsoft, "Excel specifications and limits"). */
export const LONGEST_CELL_TEXT = 32_767;

const MARK = '… (cut: a cell holds no more)';

/**
 * A text as a cell of a workbook can hold it: one of more than 32,767 characters is cut, and says so at its end.
 *
 * @example cutCellText('a'.repeat(40_000)).slice(-30) // 'a… (cut: a cell holds no more)'
 */
export function cutCellText(text: string): string {
  if (text.length <= LONGEST_CELL_TEXT) return text;
  const kept = text.slice(0, LONGEST_CELL_TEXT - MARK.length);
  // Half of a pair of surrogates is no letter.
  return (/[\ud800-\udbff]$/.test(kept) ? kept.slice(0, -1) : kept) + MARK;
}
