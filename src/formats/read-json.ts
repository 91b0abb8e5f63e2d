import type { RawCell, RawRow, RawTable } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { wholeLetters } from '../util/whole-letters.js';
import { capsOf, raiseCap, type JsonCaps } from './input-caps.js';

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const [OPEN_LIST, CLOSE_LIST] = [0x5b, 0x5d];
const [OPEN_OBJECT, CLOSE_OBJECT] = [0x7b, 0x7d];

/**
 * A table from JSON: a list of objects, or an object with such a list under `inspections`. The keys are the columns, in
 * order of first appearance; the row number of an object is its position in the list, from 1.
 *
 * @param changes caps that are set otherwise
 * @throws TreadlebookError `input_unreadable` when it is not JSON, not of that form, or beyond a cap
 * @example readJson('[{"unit":"K-101","inspected_on":"2026-03-14"}]', 'fleet.json')
 */
export function readJson(text: string, name: string, changes: Partial<JsonCaps> = {}): RawTable {
  const caps = capsOf('json', changes);
  if (text.length > caps.fileBytes) throw beyond(name, 'fileBytes', caps.fileBytes, 'bytes');
  if (isDeeper(text, caps.depth)) throw beyond(name, 'depth', caps.depth, 'lists and objects inside one another');
  const records = recordsOf(parseJson(text, name), name);
  if (records.length > caps.records) throw beyond(name, 'records', caps.records, 'inspections');
  const columns = new Map<string, number>();
  for (const record of records) for (const key of Object.keys(record)) if (!columns.has(key)) columns.set(key, columns.size);
  if (columns.size > caps.columns) throw beyond(name, 'columns', caps.columns, 'different keys');
  if (columns.size * records.length > caps.cells) throw beyond(name, 'cells', caps.cells, 'inspections times different keys');
  const rows: RawRow[] = [{ number: 0, cells: [...columns.keys()].map(wholeLetters) }];
  for (const [index, record] of records.entries()) {
    const cells: RawCell[] = new Array<RawCell>(columns.size).fill(null);
    for (const [key, value] of Object.entries(record)) cells[columns.get(key)!] = cellOf(value, () => `${name}, item ${index + 1}, ${key.slice(0, 60)}`, caps);
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

function cellOf(value: unknown, where: () => string, { fieldLength }: JsonCaps): RawCell {
  if (typeof value === 'string' && value.length > fieldLength) throw beyond(where(), 'fieldLength', fieldLength, 'characters in one value');
  if (value === null || value === undefined) return null;
  if (typeof value === 'string') return wholeLetters(value);
  if (typeof value === 'boolean' || (typeof value === 'number' && Number.isFinite(value))) return value;
  throw new TreadlebookError({ code: 'input_unreadable', where: where(), what: 'the value is neither text, number, yes/no nor null', mend: 'give one value per column' });
}

/** Whether more lists and objects stand inside one another than `most`, before anything is parsed. */
function isDeeper(text: string, most: number): boolean {
  let depth = 0;
  let quoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) quoted = !quoted;
    else if (quoted) at += code === BACKSLASH ? 1 : 0;
    else if (code === OPEN_LIST || code === OPEN_OBJECT) {
      depth += 1;
      if (depth > most) return true;
    } else if (code === CLOSE_LIST || code === CLOSE_OBJECT) depth -= 1;
  }
  return false;
}

function beyond(where: string, cap: keyof JsonCaps, most: number, words: string): TreadlebookError {
  return new TreadlebookError({ code: 'input_unreadable', where, what: `there are more than ${most} ${words}`, mend: raiseCap(`json.${cap}`, most) });
}
