/**
 * A spreadsheet's name for a column.
 *
 * @param index 0-based position of the column
 * @example columnLetters(27) // 'AB'
 */
export function columnLetters(index: number): string {
  let letters = '';
  for (let left = index + 1; left > 0; left = Math.floor((left - 1) / 26)) {
    letters = String.fromCharCode(65 + ((left - 1) % 26)) + letters;
  }
  return letters;
}
