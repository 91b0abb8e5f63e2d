import type { ColumnRole } from '../readings/find-header.js';
import type { Inspection } from '../readings/inspection.js';
import { joinColumns } from '../readings/join-columns.js';
import type { Problem } from '../readings/problem.js';
import type { OpenedReadings } from './open-readings.js';
import type { SourceInfo } from './source-info.js';
import { notesOfTables, problemsOfTables, sourceOfTables } from './told-of-tables.js';

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
    problems: (passedOver) => problemsOfTables(tables, (index, row) => row === null || !passedOver.has(rowsBefore[index]! + row)),
    notes: () => notesOfTables(tables),
    source: (passedOver) => sourceOfTables(tables, passedOver),
  };
}
