/** The height in points that a printed page holds below the title that is repeated, on A4 and on letter paper. */
const PAGE = 470;

/** What is to be kept together on a printed page. */
export interface PrintedBlock {
  /** The row that the block begins with. */
  readonly row: number;
  /** Its height in points. */
  readonly height: number;
}

/**
 * The rows above which a new page begins, so that no block is torn that a page can hold. A block that is longer than a
 * page begins on a new one, unless little of the page is taken.
 *
 * @param blocks from the top down
 * @example pageStarts([{ row: 1, height: 300 }, { row: 20, height: 100 }, { row: 30, height: 200 }]) // [30]
 */
export function pageStarts(blocks: readonly PrintedBlock[]): number[] {
  const starts: number[] = [];
  let taken = 0;
  for (const { row, height } of blocks) {
    const fits = taken + height <= PAGE || (height > PAGE && taken < PAGE / 4);
    if (!fits && taken > 0) starts.push(row);
    taken = ((fits ? taken : 0) + height) % (PAGE + 1);
  }
  return starts;
}
