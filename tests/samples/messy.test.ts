import { createReadStream, readdirSync, readFileSync } from 'node:fs';
import { extname } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { readCsv } from '../../src/formats/read-csv.js';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import type { ColumnRole } from '../../src/readings/find-header.js';
import type { Problem, ProblemCode } from '../../src/readings/problem.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { plainValue, type RawCell, type RawRow } from '../../src/util/raw-table.js';
import { extraCell } from '../../src/workbook/cell-values.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { openReadings } from '../../src/workbook/open-readings.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { messyCase, messyNames, messyOptions, messyPath, type MessyCase } from './messy-case.js';

const names = messyNames();
const fleets = new Map<string, Promise<EvaluatedFleet>>();
const fleetOf = (name: string): Promise<EvaluatedFleet> => {
  const known = fleets.get(name) ?? evaluateReadings(messyPath(name), messyOptions(messyCase(name)));
  fleets.set(name, known);
  return known;
};

/** What the program made of a file, in the words of the expected result. */
function found({ plan, columns, evaluations, problems, source }: EvaluatedFleet, what: Pick<MessyCase, 'what' | 'options'>): MessyCase {
  const { fields } = plan.dictionary;
  const inspections = evaluations.map(({ inspection: { row, values } }) => ({ row, ...Object.fromEntries(fields.flatMap(({ name }, position) => ((values[position] ?? null) === null ? [] : [[name, values[position]!]]))) }));
  const headers = columns.flatMap(({ role, header }) => (role === 'extra' ? [header] : []));
  const widest = Math.max(headers.length, ...evaluations.map(({ inspection }) => inspection.extra.length));
  const extra = Array.from({ length: widest }, (_, index) => ({ header: headers[index] ?? null, cells: evaluations.map(({ inspection }) => extraCell(inspection.extra[index] ?? null) ?? null) }));
  return {
    ...what,
    fields: columns.map((column) => [column.header, column.role === 'field' ? fields[column.position]!.name : null] as const),
    inspections,
    extra: extra.filter(({ cells, header }) => (header ?? '') !== '' || cells.some((cell) => cell !== null)),
    problems: inOrder(problems.map(({ code, row, column, cell }) => ({ code, row, column, cell }))),
    counts: { rows_read: source.rows_read, rows_blank: source.rows_blank, rows_set_aside: source.rows_set_aside, inspections: source.inspections },
  };
}

function inOrder(problems: MessyCase['problems']): MessyCase['problems'] {
  const key = ({ code, column, cell }: MessyCase['problems'][number]): string => `${column} ${cell} ${code}`;
  return [...problems].sort((a, b) => (a.row ?? 0) - (b.row ?? 0) || (key(a) < key(b) ? -1 : 1));
}

/** Numbers agree to 1e-9, relative beyond 1; everything else to the letter. */
function nearly(value: unknown): unknown {
  if (typeof value === 'number') return Number.isInteger(value) ? value : Number(value.toPrecision(10));
  if (Array.isArray(value)) return value.map(nearly);
  if (value !== null && typeof value === 'object') return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, nearly(inner)]));
  return value;
}

describe('a messy sheet is read as a person reads it', () => {
  test.each(names)('%s', async (name) => {
    const expected = messyCase(name);
    const made = found(await fleetOf(name), expected);
    expect(nearly(made)).toStrictEqual(nearly({ ...expected, problems: inOrder(expected.problems) }));
  });

  test('every file has its expected result, and every expected result its file', () => {
    const files = readdirSync(messyPath('')).filter((name) => !/\.(json|md|mjs)$/.test(name));
    expect(files.sort()).toStrictEqual([...names].sort());
    expect(names.length).toBeGreaterThanOrEqual(34);
  });

  test('each expected result says in one sentence what the mess is, and adds up', () => {
    for (const name of names) {
      const { what, counts, inspections } = messyCase(name);
      expect(what, name).toMatch(/^\S.{20,250}\.$/);
      expect(counts.rows_read, name).toBe(counts.rows_blank + counts.rows_set_aside + counts.inspections);
      expect(inspections, name).toHaveLength(counts.inspections);
    }
  });
});

/** Every code, and whether a table with one row per inspection can give it; that of other shapes is exempt, and so are what is in a workbook beside its cells and a text that is longer than a file to look at. */
const CODES: Readonly<Record<ProblemCode, 'table' | 'other shapes'>> = {
  not_understood: 'table',
  implausible: 'table',
  required_blank: 'table',
  date_order_unknown: 'table',
  header_twice: 'table',
  header_assumed: 'table',
  sheet_not_read: 'table',
  left_alone: 'other shapes',
  row_set_aside: 'table',
  not_placed: 'other shapes',
  cells_beyond_header: 'table',
  inspection_id_twice: 'table',
  inspection_twice: 'table',
  unit_twice_on_a_day: 'table',
  unit_spelled_differently: 'table',
  rise_in_test: 'table',
  pressure_in_time: 'table',
  position_twice: 'other shapes',
  retest_of_unknown: 'table',
  as_found_outdated: 'table',
  text_too_long: 'other shapes',
};

test('every problem that a table can give occurs in one of the files', () => {
  const seen = new Set(names.flatMap((name) => messyCase(name).problems.map(({ code }) => code)));
  expect(Object.entries(CODES).flatMap(([code, from]) => (from === 'table' && !seen.has(code as ProblemCode) ? [code] : []))).toStrictEqual([]);
});

interface Below {
  readonly columns: readonly ColumnRole[];
  readonly rows: readonly RawRow[];
}

/** The cells below the header, as the file has them. */
async function below(name: string): Promise<Below> {
  const { reader } = await openReadings(messyPath(name), messyOptions(messyCase(name)));
  const table = extname(name) === '.xlsx' ? (await openXlsx(new Uint8Array(readFileSync(messyPath(name))))).sheets.find((sheet) => sheet.name === reader.sheet)!.table() : await readCsv(createReadStream(messyPath(name)));
  const rows: RawRow[] = [];
  for await (const row of table.rows) if (row.number > reader.headerRow) rows.push(row);
  return { columns: reader.columns, rows };
}

const isBlank = (cell: RawCell): boolean => String(plainValue(cell) ?? '').trim() === '';

/** Samples of other shapes: that nothing of them is lost is a property of the functions that put them together, see tests/readings/reshape-*. */
const PUT_TOGETHER = ['form.csv', 'long-list.csv', 'on-its-side.csv'];

describe('nothing is lost', () => {
  test.each(names.filter((name) => !PUT_TOGETHER.includes(name)))('%s: every row is counted, and every cell found again', async (name) => {
    const fleet = await fleetOf(name);
    const { columns, rows } = await below(name);
    expect(rows.length).toBe(fleet.source.rows_read);
    expect(rows.filter(({ cells }) => cells.every(isBlank)).length).toBe(fleet.source.rows_blank);
    const written = await writtenRows(fleet);
    const lost: string[] = [];
    for (const row of rows) {
      for (const [index, cell] of row.cells.entries()) {
        if (!isBlank(cell) && !isFoundAgain(cell, row, index, columns, written, fleet)) lost.push(`${columnLetters(index)}${row.number}: ${JSON.stringify(cell)}`);
      }
    }
    expect(lost).toStrictEqual([]);
  });
});

/** The cells of each inspection in the evaluated CSV, by the row in which it stood. */
async function writtenRows({ plan, columns, evaluations }: EvaluatedFleet): Promise<Map<number, readonly string[]>> {
  const csv = await bytesOf(evaluatedCsv(plan, columns, evaluations));
  const lines: (readonly string[])[] = [];
  const chunks = (async function* () {
    yield csv;
  })();
  for await (const { cells } of (await readCsv(chunks, { delimiter: ',' })).rows) lines.push(cells as string[]);
  expect(lines).toHaveLength(evaluations.length + 1);
  return new Map(evaluations.map(({ inspection: { row } }, index) => [row, lines[index + 1]!]));
}

function isFoundAgain(cell: RawCell, { number, cells }: RawRow, index: number, columns: readonly ColumnRole[], written: ReadonlyMap<number, readonly string[]>, fleet: EvaluatedFleet): boolean {
  const line = written.get(number);
  const plain = String(plainValue(cell));
  if (line === undefined) return isNamed(plain, number, fleet.problems);
  const column = columns[index];
  if (column === undefined) return line.slice(columns.length).includes(plain);
  // Made anew.
  if (column.role === 'computed') return true;
  // Each text as found stands in its own cell again, or is named.
  if (column.role === 'as_found') return quoted(plain).every((text) => line.includes(text) || isNamed(text, number, fleet.problems));
  const text = line[columns.slice(0, index).filter(({ role }) => role === 'field' || role === 'extra').length]!;
  const beside = String(plainValue(cells[columns.findIndex(({ role }) => role === 'as_found')] ?? null) ?? '');
  return saysTheSame(cell, text, column, fleet) || quoted(beside).includes(text);
}

/** The texts of a cell of texts as found. */
function quoted(cell: string): string[] {
  return [...cell.matchAll(/"(?:[^"\\]|\\.)*"/g)].map(([text]) => JSON.parse(text) as string);
}

/** A text to the letter, with the unit of its header where that names one; a number as a number, a time or a day as one. */
function saysTheSame(cell: RawCell, text: string, column: ColumnRole, { plan }: EvaluatedFleet): boolean {
  if (typeof cell === 'string') return text === cell || (column.role === 'field' && text === `${cell} ${column.unit ?? column.timeUnit}`);
  if (typeof cell === 'boolean') return text === (column.role === 'field' ? (cell ? 'yes' : 'no') : String(cell));
  const kind = column.role === 'field' ? plan.dictionary.fields[column.position]!.kind : null;
  return typeof cell === 'object' || kind === 'time' ? /\d/.test(text) : text === String(cell);
}

function isNamed(text: string, row: number, problems: readonly Problem[]): boolean {
  return problems.some((problem) => problem.row === row && problem.found.includes(text));
}

interface Maker {
  makeMessy(): Promise<ReadonlyMap<string, Uint8Array>>;
}

describe('make-messy.mjs', () => {
  test('makes the same cells as the files that stand there', async () => {
    const { makeMessy } = (await import(pathToFileURL(messyPath('make-messy.mjs')).href)) as Maker;
    const made = await makeMessy();
    expect([...made.keys()].filter((name) => !names.includes(name))).toStrictEqual([]);
    for (const [name, bytes] of made) {
      const there = new Uint8Array(readFileSync(messyPath(name)));
      if (extname(name) === '.xlsx') expect(await bookCells(bytes), name).toStrictEqual(await bookCells(there));
      else expect(Buffer.compare(bytes, there), name).toBe(0);
    }
    const workbooks = names.filter((name) => extname(name) === '.xlsx' && !made.has(name));
    expect(workbooks).toStrictEqual(['libreoffice.xlsx']);
  });
});

/** Every cell of a workbook with its formula, and what does not show. */
async function bookCells(bytes: Uint8Array): Promise<unknown> {
  const book = await openXlsx(bytes);
  const sheets: unknown[] = [];
  for (const { name, state, stored } of book.sheets) {
    const { rows, hiddenColumns } = stored();
    const all: unknown[] = [];
    for await (const row of rows) all.push(row);
    sheets.push({ name, state, rows: all, hiddenColumns });
  }
  return { date1904: book.date1904, sheets };
}
