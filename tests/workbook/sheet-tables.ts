import { openXlsx } from '../../src/formats/read-xlsx.js';
import { plainValue } from '../../src/util/raw-table.js';

/** A cell as it stands: a blank and an empty text are null. */
export type PlainCell = string | number | boolean | null;

/** The rows of a sheet by row number. */
export async function rowsOfSheet(workbook: Uint8Array, sheet: string): Promise<Map<number, PlainCell[]>> {
  const found = (await openXlsx(workbook)).sheets.find(({ name }) => name === sheet);
  if (!found) throw new Error(`there is no sheet ${sheet}`);
  const rows = new Map<number, PlainCell[]>();
  for await (const { number, cells } of found.table().rows) rows.set(number, cells.map((cell) => (plainValue(cell) === '' ? null : plainValue(cell))));
  return rows;
}

/** The rows below a header row as records by header, up to the last row of the sheet. */
export async function recordsOfSheet(workbook: Uint8Array, sheet: string, headerRow: number): Promise<Map<number, Record<string, PlainCell>>> {
  const rows = await rowsOfSheet(workbook, sheet);
  const headers = rows.get(headerRow) ?? [];
  const records = new Map<number, Record<string, PlainCell>>();
  for (const [number, cells] of rows) {
    if (number > headerRow) records.set(number, Object.fromEntries(headers.flatMap((header, index) => (header === null ? [] : [[String(header), cells[index] ?? null]]))));
  }
  return records;
}

/** A value as it is stored in a cell: yes and no for truths, a number to nine decimals. */
export function asCell(value: PlainCell): PlainCell {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (value === '') return null;
  return typeof value === 'number' ? Math.round(value * 1e9) / 1e9 + 0 : value;
}
