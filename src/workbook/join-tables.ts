import type { ColumnRole } from '../readings/find-header.js';
import type { Inspection } from '../readings/inspection.js';
import { joinColumns } from '../readings/join-columns.js';
import type { Problem } from '../readings/problem.js';
import { repeatsBetween } from '../readings/repeats-between.js';
import { columnLetters } from '../util/column-letters.js';
import { countedRow, placeOfRow } from '../util/continued-sheets.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { leftAloneIn, type LeftAlone } from './left-alone.js';
import type { OpenedReadings } from './open-readings.js';
import { sheetNotRead } from './sheet-not-read.js';
import { joinSources, type SourceInfo } from './source-info.js';

/** A table that was opened. */
export type OpenedTable = OpenedReadings;

/** Several tables as one. Walk the inspections; then the rest is complete. */
export interface JoinedTables {
  readonly columns: readonly ColumnRole[];
  /** Those of each table in turn. Rows count on: those of a table come after the last of the one before. */
  readonly inspections: AsyncIterable<Inspection>;
  /** Index of the table that a row belongs to, as rows count on. */
  tableOf(row: number): number;
  /**
   * By table and row. Of several tables, the sheet of a problem is the name of its file, with the sheet if it has one.
   *
   * @param passedOver rows, as rows count on, of inspections that were not taken: their problems are left out
   */
  problems(passedOver: ReadonlySet<number>): Problem[];
  notes(): string[];
  /** @param passedOver inspections that were read and not taken */
  source(passedOver: number): SourceInfo;
}

/** Joins tables in their order; one alone stays as it is. */
export function joinTables(tables: readonly OpenedTable[]): JoinedTables {
  const { columns, places } = joinColumns(tables.map(({ reader }) => reader.columns));
  const rowsBefore: number[] = [];
  const inspections = async function* (): AsyncGenerator<Inspection> {
    let last = 0;
    for (const [index, { reader }] of tables.entries()) {
      const before = last;
      rowsBefore.push(before);
      for await (const inspection of reader.inspections) {
        last = Math.max(last, before + inspection.row);
        yield index === 0 ? { ...inspection, extra: places[0]!(inspection.extra) } : { ...inspection, row: before + inspection.row, extra: places[index]!(inspection.extra) };
      }
    }
  };
  return {
    columns,
    inspections: tables.length === 1 ? tables[0]!.reader.inspections : inspections(),
    tableOf: (row) => Math.max(0, rowsBefore.findLastIndex((before) => before < row)),
    problems: (passedOver) => {
      const isTaken = (index: number, row: number | null): boolean => row === null || !passedOver.has(rowsBefore[index]! + row);
      return tables.length === 1 ? problemsOf(tables[0]!) : problemsOfAll(tables, isTaken);
    },
    notes: () => tables.flatMap((table) => [...table.reader.notes, ...leftAlone(table).notes].map((note) => (tables.length === 1 ? note : `${table.source().name}: ${note}`))),
    source: (passedOver) => sourceOf(tables.map(({ source }) => source()), passedOver),
  };
}

function sourceOf([first, ...others]: readonly SourceInfo[], passedOver: number): SourceInfo {
  if (first === undefined) throw new TreadlebookError({ code: 'usage', what: 'there is no input', mend: 'name at least one table of readings' });
  if (others.length === 0) return first;
  const inspections = others.reduce((sum, file) => sum + file.inspections, first.inspections) - passedOver;
  return { ...joinSources([first, ...others], passedOver), inspections, files: [first, ...others] };
}

function leftAlone({ book, otherSheets, reader }: OpenedTable): LeftAlone {
  return book ? leftAloneIn(book, [...otherSheets, reader.sheet]) : { problems: [], notes: [] };
}

function problemsOf(table: OpenedTable): Problem[] {
  return inOrder(ownProblems(table)).map(({ problem }) => problem);
}

/** A problem, and its row as the rows of its table are counted on from sheet to sheet. */
interface PlacedProblem {
  readonly problem: Problem;
  readonly row: number | null;
}

function ownProblems(table: OpenedTable): PlacedProblem[] {
  const { otherSheets, reader } = table;
  const all = [...leftAlone(table).problems, ...otherSheets.map((sheet) => sheetNotRead(sheet)), ...reader.problems];
  return all.map((problem) => ({ problem, row: problem.row === null ? null : countedRow(reader.sheet, { sheet: problem.sheet, row: problem.row }) }));
}

function problemsOfAll(tables: readonly OpenedTable[], isTaken: (index: number, row: number | null) => boolean): Problem[] {
  const between = repeatsBetween(tables.map((table) => ({ rowWords: (row) => rowOfTable(table, row), seen: table.reader.seen() })));
  return tables.flatMap((table, index) => {
    const own = ownProblems(table).map(({ problem, row }): PlacedProblem => ({ problem: { ...problem, sheet: label(table, problem.sheet) }, row }));
    const shared = between.filter((repeat) => repeat.table === index).map(({ code, row, field, found, expected }): PlacedProblem => {
      const place = placeOfRow(table.reader.sheet, row);
      return { problem: { code, sheet: label(table, place.sheet), row: place.row, column: field, cell: cellOf(table, field, place.row), found, expected }, row };
    });
    return inOrder([...own, ...shared].filter(({ row }) => isTaken(index, row))).map(({ problem }) => problem);
  });
}

/** The name of a file, with the sheet if it has one. */
function label({ source }: OpenedTable, sheet: string): string {
  return [source().name, sheet].filter((part) => part !== '').join(', ');
}

function rowOfTable(table: OpenedTable, row: number): string {
  const place = placeOfRow(table.reader.sheet, row);
  return `row ${place.row} of ${label(table, place.sheet)}`;
}

/** The cell of a field; none where the table was put together from other cells. */
function cellOf({ reader }: OpenedTable, field: string, row: number): string {
  const at = reader.columns.findIndex((column) => column.role === 'field' && reader.dictionary.fields[column.position]!.name === field);
  return at < 0 || reader.isReshaped ? '' : `${columnLetters(at)}${row}`;
}

function inOrder(problems: readonly PlacedProblem[]): PlacedProblem[] {
  return problems.toSorted((a, b) => (a.row ?? 0) - (b.row ?? 0));
}
