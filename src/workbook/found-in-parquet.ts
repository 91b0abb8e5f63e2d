import { parseAsFound } from '../readings/as-found-text.js';
import { AS_FOUND, COMPUTED_PREFIX } from '../readings/table-names.js';
import { plainValue, type RawRow, type RawTable } from '../util/raw-table.js';

/**
 * A table from Parquet in which cells that were not understood say again what they said: a typed column cannot hold such a text, so it is
 * blank, and the text stands in the column `as_found`. Another program's table is left as it is.
 */
export function foundInParquet(table: RawTable): RawTable {
  return { ...table, rows: rows(table.rows) };
}

async function* rows(source: AsyncIterable<RawRow>): AsyncGenerator<RawRow> {
  let header: readonly string[] | null = null;
  let found = -1;
  for await (const row of source) {
    if (header === null) {
      header = row.cells.map((cell) => String(plainValue(cell) ?? ''));
      if (header.some((name) => name.startsWith(COMPUTED_PREFIX))) found = header.lastIndexOf(AS_FOUND);
      yield row;
      continue;
    }
    const text = found < 0 ? null : plainValue(row.cells[found]);
    if (typeof text !== 'string') yield row;
    else yield { ...row, cells: withTexts(row.cells, header, parseAsFound(text)) };
  }
}

function withTexts(cells: RawRow['cells'], header: readonly string[], texts: ReadonlyMap<string, string>): RawRow['cells'] {
  return cells.map((cell, index) => (cell === null ? (texts.get(header[index]!) ?? null) : cell));
}
