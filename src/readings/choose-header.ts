import { nearestName } from '../util/nearest-name.js';
import { plainValue, type RawCell, type RawRow } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { cleanCellText } from './clean-cell-text.js';
import type { Dictionary } from './dictionary.js';
import { headerScore, holdsOnlyUnits, joinHeaderRows, joinUnitsRow, readHeader, type ColumnMap, type Header } from './find-header.js';

/** How far down a header is looked for. */
export const HEADER_SEARCH_ROWS = 40;

/**
 * Finds the header among the first rows of a table: the row, or the two rows together, that name the most fields. A row of
 * units below it belongs to it. Where a table with readings stands above, its header is taken, so that no row of it is passed over.
 *
 * @param place the file and sheet, for errors
 * @throws TreadlebookError `input_empty` when there is no row, `header_missing` when no row names a `unit`
 */
export function chooseHeader(rows: readonly RawRow[], dictionary: Dictionary, place: string, map?: ColumnMap): Header {
  const header = findHeader(rows, dictionary, map);
  if (!header) throw noHeader(rows, place);
  return header;
}

/** The header among the first rows of a table; null when none names a unit. */
export function findHeader(rows: readonly RawRow[], dictionary: Dictionary, map?: ColumnMap): Header | null {
  const candidates: Candidate[] = [];
  const consider = (index: number, row: RawRow, lower = row): void => {
    const header = readHeader(row, dictionary, map, lower);
    const plain = { index, header, score: headerScore(header, dictionary) };
    const below = rows[index + 1];
    candidates.push((plain.score > 0 && below && holdsOnlyUnits(below) ? withUnits(index + 1, joinUnitsRow(row, below), plain.score) : null) ?? plain);
  };
  const withUnits = (index: number, row: RawRow, least: number): Candidate | null => {
    const header = readHeader(row, dictionary, map);
    const score = headerScore(header, dictionary);
    return score >= least ? { index, header, score } : null;
  };
  for (const [index, row] of rows.entries()) consider(index, row);
  for (const [index, row] of rows.entries()) if (index > 0 && holdsOnlyWords(row)) consider(index, joinHeaderRows(rows[index - 1]!, row), row);
  const best = highest(candidates);
  if (!best) return null;
  const above = candidates.filter((candidate) => candidate.index < best.index && headsReadings(candidate, rows.slice(0, best.index), dictionary));
  const first = Math.min(...above.map(({ index }) => index));
  return (highest(above.filter(({ index }) => index === first)) ?? best).header;
}

interface Candidate {
  /** Position of its lowest row. */
  readonly index: number;
  readonly header: Header;
  readonly score: number;
}

function highest(candidates: readonly Candidate[]): Candidate | null {
  return candidates.reduce<Candidate | null>((best, next) => (next.score > (best?.score ?? 0) ? next : best), null);
}

/** True for a header with a unit, a reading and a third field, below which a row has a unit and a reading with a digit. */
function headsReadings({ index, header, score }: Candidate, rows: readonly RawRow[], dictionary: Dictionary): boolean {
  const fields = header.columns.flatMap((column, at) => (column.role === 'field' ? [{ at, field: dictionary.fields[column.position]! }] : []));
  const unit = fields.find(({ field }) => field.name === 'unit');
  if (score === 0 || fields.length < 3 || !unit || !holdsOnlyWords(rows[index]!)) return false;
  const readings = fields.filter(({ field }) => field.kind === 'pressure' || field.kind === 'time');
  return rows.slice(index + 1).some(({ cells }) => textOf(cells[unit.at] ?? null) !== '' && readings.some(({ at }) => /\d/.test(textOf(cells[at] ?? null))));
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
