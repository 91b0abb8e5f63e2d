import type { RawCell, RawRow, RawTable } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { wholeLetters } from '../util/whole-letters.js';

/**
 * A table from JSON: a list of objects, or an object with such a list under `inspections`. The keys are the columns, in
 * order of first appearance; the row number of an object is its position in the list, from 1.
 *
 * @throws TreadlebookError `input_unreadable` when it is not JSON, or not of that form
 * @example readJson('[{"unit":"K-101","inspected_on":"2026-03-14"}]', 'fleet.json')
 */
export function readJson(text: string, name: string): RawTable {
  const records = recordsOf(parseJson(text, name), name);
  const columns = new Map<string, number>();
  for (const record of records) for (const key of Object.keys(record)) if (!columns.has(key)) columns.set(key, columns.size);
  const rows: RawRow[] = [{ number: 0, cells: [...columns.keys()].map(wholeLetters) }];
  for (const [index, record] of records.entries()) {
    const cells: RawCell[] = new Array<RawCell>(columns.size).fill(null);
    for (const [key, value] of Object.entries(record)) cells[columns.get(key)!] = cellOf(value, `${name}, item ${index + 1}, ${key}`);
    rows.push({ number: index + 1, cells });
  }
  return { sheet: '', date1904: false, rows: walk(records.length === 0 ? [] : rows) };
}

async function* walk(rows: readonly RawRow[]): AsyncGenerator<RawRow> {
  yield* rows;
}

function parseJson(text: string, name: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (cause) {
    throw new TreadlebookError({ code: 'input_unreadable', where: name, what: `it is not JSON: ${cause instanceof Error ? cause.message : ''}`, mend: 'check commas, quotes and brackets', cause });
  }
}

function recordsOf(json: unknown, name: string): Record<string, unknown>[] {
  const list = Array.isArray(json) ? json : isRecord(json) && Object.hasOwn(json, 'inspections') ? json['inspections'] : null;
  if (Array.isArray(list) && list.every(isRecord)) return list;
  throw new TreadlebookError({ code: 'input_unreadable', where: name, what: 'it is not a list of inspections', mend: 'give a list of objects, one per inspection, or an object with that list under "inspections"; schemas/inspection.schema.json describes one' });
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}

function cellOf(value: unknown, where: string): RawCell {
  if (value === null || value === undefined) return null;
  if (typeof value === 'string') return wholeLetters(value);
  if (typeof value === 'boolean' || (typeof value === 'number' && Number.isFinite(value))) return value;
  throw new TreadlebookError({ code: 'input_unreadable', where, what: 'the value is neither text, number, yes/no nor null', mend: 'give one value per column' });
}
