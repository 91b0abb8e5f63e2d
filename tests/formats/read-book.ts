import { openXlsx } from '../../src/formats/read-xlsx.js';
import type { OpenXlsxOptions, RowWithFormulas } from '../../src/formats/read-xlsx.js';
import type { RawRow } from '../../src/util/raw-table.js';
import { all } from './csv-text.js';

/** The rows of every sheet, by the sheet's name. */
export async function readBook(bytes: Uint8Array, options: OpenXlsxOptions = {}): Promise<Record<string, RawRow[]>> {
  const book = await openXlsx(bytes, options);
  const found: Record<string, RawRow[]> = {};
  for (const sheet of book.sheets) found[sheet.name] = await all(sheet.table().rows);
  return found;
}

/** The rows of the sheet S. */
export async function readSheet(bytes: Uint8Array, options: OpenXlsxOptions = {}): Promise<RawRow[]> {
  return (await readBook(bytes, options))['S'] ?? [];
}

export async function readFormulas(bytes: Uint8Array, options: OpenXlsxOptions = {}): Promise<RowWithFormulas[]> {
  const [sheet] = (await openXlsx(bytes, options)).sheets;
  return sheet ? all(sheet.rowsWithFormulas()) : [];
}
