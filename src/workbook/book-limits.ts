import type { InputCaps } from '../formats/input-caps.js';
import type { StoredRow, XlsxBook } from '../formats/read-xlsx.js';
import { openXlsxInWorker } from '../formats/xlsx-worker/open-xlsx-in-worker.js';
import { parseCellPosition } from '../formats/xlsx-reader/cell-position.js';
import { FACTS_USED } from '../limits/facts-used.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { plainValue } from '../util/raw-table.js';
import { cellName } from './defined-names.js';
import { LIMITS_SHEET } from './sheets/limits-sheet.js';
import { PROVENANCE_SHEET } from './sheets/provenance-sheet.js';
import { lineOf, type Line } from './verify-line.js';
import { ProvenanceLines } from './verify-provenance.js';

const CELL_OF_LIMITS = /^'?Limits'?!\$?([A-Z]+)\$?([0-9]+)$/i;

/** What an evaluated workbook says of its limits. */
export interface BookLimits {
  /** The identifier of the limit set that it was made with. */
  readonly limitSet: string;
  /** The numbers on its sheet Limits that are not those of the set, by their names among the names of the row program. */
  changed(plan: LimitPlan): Promise<ReadonlyMap<string, number | null>>;
  /** Lets go of the workbook. */
  close(): void;
}

/**
 * Reads what a workbook of ours says of its limits; null for any other workbook.
 *
 * @throws TreadlebookError `input_unreadable` for what is no workbook
 */
export async function bookLimits(bytes: Uint8Array, name: string, caps: InputCaps = {}): Promise<BookLimits | null> {
  const book = await openXlsxInWorker(bytes, { ...caps.xlsx, name });
  let limitSet: string | null = null;
  try {
    const lines: Line[] = [];
    for await (const row of sheetOf(book, PROVENANCE_SHEET)?.stored().rows ?? []) lines.push(lineOf(row));
    limitSet = new ProvenanceLines(lines).limitSetId;
  } finally {
    if (limitSet === null) book.close();
  }
  return limitSet === null ? null : { limitSet, changed: (plan) => changedNumbers(book, plan), close: () => book.close() };
}

async function changedNumbers(book: XlsxBook, plan: LimitPlan): Promise<ReadonlyMap<string, number | null>> {
  const rows = new Map<number, StoredRow['cells']>();
  for await (const { number, cells } of sheetOf(book, LIMITS_SHEET)?.stored().rows ?? []) rows.set(number, cells);
  const references = new Map([...book.definedNames].map(([name, reference]) => [name.toLowerCase(), reference]));
  const changed = new Map<string, number | null>();
  for (const { name, value } of [...plan.cells, ...FACTS_USED.map((fact) => ({ name: `fact:${fact.fact}`, value: fact.value }))]) {
    const found = numberAt(rows, references.get(cellName(name).toLowerCase()));
    if (found !== undefined && (found === null || Math.abs(found - value) > 1e-9 * Math.max(1, Math.abs(value)))) changed.set(name, found);
  }
  return changed;
}

/** The number in a cell of Limits, a blank being 0 as a formula takes it; null for a text, undefined where the name leads elsewhere. */
function numberAt(rows: ReadonlyMap<number, StoredRow['cells']>, reference: string | undefined): number | null | undefined {
  const place = reference === undefined ? null : CELL_OF_LIMITS.exec(reference);
  const position = place === null ? null : parseCellPosition(`${place[1]}${place[2]}`);
  if (!position) return undefined;
  const value = plainValue(rows.get(position.row)?.[position.column - 1]);
  return typeof value === 'number' ? value : value === null || value === '' ? 0 : null;
}

function sheetOf(book: XlsxBook, name: string): XlsxBook['sheets'][number] | undefined {
  return book.sheets.find((sheet) => sheet.name.toLowerCase() === name.toLowerCase());
}
