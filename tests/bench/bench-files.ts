import { createWriteStream, writeFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { openXlsx } from '../../dist/formats/read-xlsx.js';
import { evaluateReadings, workbookOf } from '../../dist/index.js';
import { benchFleet } from './bench-fleet.js';

/** A cell as the other writers take it. */
export type Cell = string | number | boolean | null;

/** What stands in the file of cells: rows, and the formula of each column, null where values are entered. */
export interface RepeatedCells {
  readonly rows: readonly (readonly Cell[])[];
  readonly formulas: readonly (string | null)[];
}

/** What the measurements read. */
export interface BenchFiles {
  readonly folder: string;
  readonly inspections: number;
  readonly csv: string;
  /** The evaluated workbook of the same rows. */
  readonly xlsx: string;
  /** JSON: the cells of the first rows of its sheet Readings, for the writers that are to write the same again and again. */
  readonly cells: string;
}

/** Rows whose cells the other writers repeat. Deflate looks back 32 KiB, which is some twenty rows, so repeating gains nothing. */
const REPEATED = 5000;

/** The first row below the titles of the sheet Readings. */
const FIRST_ROW = 4;

/** Makes the table of so many inspections in a folder, and from it the workbook where one is asked for. */
export async function makeBenchFiles(folder: string, inspections: number, withWorkbook: boolean): Promise<BenchFiles> {
  const files = { folder, inspections, csv: join(folder, `${inspections}.csv`), xlsx: join(folder, `${inspections}.xlsx`), cells: join(folder, `${inspections}.json`) };
  await pipeline(Readable.from(benchFleet(inspections)), createWriteStream(files.csv));
  if (!withWorkbook) return files;
  await pipeline(Readable.from(workbookOf(await evaluateReadings(files.csv))), createWriteStream(files.xlsx));
  const book = await openXlsx(await readFile(files.xlsx));
  const repeated: { readonly rows: Cell[][]; formulas: (string | null)[] } = { rows: [], formulas: [] };
  for await (const { number, cells, formulas } of book.sheets.find(({ name }) => name === 'Readings')!.rowsWithFormulas()) {
    if (number < FIRST_ROW) continue;
    if (number === FIRST_ROW) repeated.formulas = [...formulas];
    repeated.rows.push(cells.map((cell) => (cell !== null && typeof cell === 'object' ? cell.value : cell)));
    if (repeated.rows.length === REPEATED) break;
  }
  writeFileSync(files.cells, JSON.stringify(repeated satisfies RepeatedCells));
  return files;
}
