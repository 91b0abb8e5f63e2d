import { nearestName } from '../util/nearest-name.js';
import { plainValue, type RawCell, type RawRow } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { cleanCellText } from './clean-cell-text.js';
import type { Dictionary } from './dictionary.js';
import { headerScore, joinHeaderRows, readHeader, type ColumnMap, type Header } from './find-header.js';

/** How far down a header is looked for. */
export const HEADER_SEARCH_ROWS = 40;

/**
 * Finds the header among the first rows of a table: the row, or the two rows together, that name the most fields.
 *
 * @param place the file and sheet, for errors
 * @throws TreadlebookError `input_empty` when there is no row, `header_missing` when no row names a `unit`
 */
export function chooseHeader(rows: readonly RawRow[], dictionary: Dictionary, place: string, map?: ColumnMap): Header {
  let best: Header | null = null;
  let bestScore = 0;
  const consider = (row: RawRow, lower = row): void => {
    const header = readHeader(row, dictionary, map, lower);
    const score = headerScore(header, dictionary);
    if (score > bestScore) [best, bestScore] = [header, score];
  };
  for (const row of rows) consider(row);
  for (const [index, row] of rows.slice(1).entries()) if (holdsOnlyWords(row)) consider(joinHeaderRows(rows[index]!, row), row);
  if (best) return best;
  throw noHeader(rows, place);
}

/** A header has no numbers; a row of data would lend its values to the names above it. */
function holdsOnlyWords(row: RawRow): boolean {
  return row.cells.every((cell) => cell === null || (typeof cell === 'string' && !/^\s*[\d.,:]+\s*$/.test(cell)));
}

function noHeader(rows: readonly RawRow[], place: string): TreadlebookError {
  const headers = rows.map((row) => row.cells.map(textOf).filter((text) => text !== '')).find((texts) => texts.length > 0);
  if (!headers) return new TreadlebookError({ code: 'input_empty', where: place, what: 'there are no rows', mend: 'check that this is the right file and that it was saved with its rows' });
  const near = headers.find((text) => nearestName(text, ['unit']) !== null);
  const listed = headers.join(', ');
  return new TreadlebookError({
    code: 'header_missing',
    where: place,
    what: `no header row with a column named unit was found in the first ${HEADER_SEARCH_ROWS} rows (the first row reads: ${listed.length > 120 ? `${listed.slice(0, 119)}…` : listed})`,
    mend: near ? `rename the column ${near} to unit` : 'put the column names above the rows, at least unit and inspected_on; `treadlebook fields` lists them',
  });
}

function textOf(cell: RawCell): string {
  return cleanCellText(String(plainValue(cell) ?? ''));
}
