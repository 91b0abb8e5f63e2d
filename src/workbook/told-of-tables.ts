import type { InspectionReader } from '../readings/read-inspections.js';
import type { Problem } from '../readings/problem.js';
import { repeatsBetween } from '../readings/repeats-between.js';
import { UNSTORED } from '../readings/unstored-words.js';
import { columnLetters } from '../util/column-letters.js';
import { countedRow, placeOfRow } from '../util/continued-sheets.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { leftAloneIn, type LeftAlone } from './left-alone.js';
import type { OpenedReadings } from './open-readings.js';
import { sheetNotRead } from './sheet-not-read.js';
import { joinSources, type SourceInfo } from './source-info.js';

/** What must be known of a table that was read to its end, to tell of it. */
export interface ReadTable extends Pick<OpenedReadings, 'otherSheets' | 'book' | 'source'> {
  readonly reader: Pick<InspectionReader, 'columns' | 'dictionary' | 'sheet' | 'isReshaped' | 'problems' | 'notes' | 'seen'>;
}

/**
 * What could not be taken as it stood, by table and row. Of several tables, the sheet of a problem is the name of its file, with
 * the sheet if it has one.
 *
 * @param isTaken whether an inspection was taken: the problems of one that was passed over are left out
 */
export function problemsOfTables(tables: readonly ReadTable[], isTaken: (table: number, row: number | null) => boolean): Problem[] {
  return tables.length === 1 ? problemsOf(tables[0]!) : problemsOfAll(tables, isTaken);
}

/** What was taken how, in sentences; of several tables, each with the name of its file. */
export function notesOfTables(tables: readonly ReadTable[]): string[] {
  return tables.flatMap((table) => [...table.reader.notes, ...leftAlone(table).notes].map((note) => (tables.length === 1 ? note : `${table.source().name}: ${note}`)));
}

/**
 * Where the inspections came from.
 *
 * @param passedOver inspections that were read and not taken
 */
export function sourceOfTables(tables: readonly ReadTable[], passedOver: number): SourceInfo {
  return sourceOf(tables.map(({ source }) => source()), passedOver);
}

/** The error of tables without an inspection. */
export function emptyInput(tables: readonly ReadTable[]): TreadlebookError {
  const unstored = tables.some(({ reader }) => reader.problems.some(({ found }) => found.startsWith(UNSTORED)));
  return new TreadlebookError({ code: 'input_empty', where: sourceOfTables(tables, 0).name, what: `there is no inspection below the header${unstored ? ', only formulas without a stored value' : ''}`, mend: unstored ? 'open the workbook in a spreadsheet program and save it, so that its formulas are computed' : 'type or paste at least one row' });
}

function sourceOf([first, ...others]: readonly SourceInfo[], passedOver: number): SourceInfo {
  if (first === undefined) throw new TreadlebookError({ code: 'usage', what: 'there is no input', mend: 'name at least one table of readings' });
  if (others.length === 0) return first;
  const inspections = others.reduce((sum, file) => sum + file.inspections, first.inspections) - passedOver;
  return { ...joinSources([first, ...others], passedOver), inspections, files: [first, ...others] };
}

function leftAlone({ book, otherSheets, reader }: ReadTable): LeftAlone {
  return book ? leftAloneIn(book, [...otherSheets, reader.sheet]) : { problems: [], notes: [] };
}

function problemsOf(table: ReadTable): Problem[] {
  return inOrder(ownProblems(table)).map(({ problem }) => problem);
}

/** A problem, and its row as the rows of its table are counted on from sheet to sheet. */
interface PlacedProblem {
  readonly problem: Problem;
  readonly row: number | null;
}

function ownProblems(table: ReadTable): PlacedProblem[] {
  const { otherSheets, reader } = table;
  const all = [...leftAlone(table).problems, ...otherSheets.map((sheet) => sheetNotRead(sheet)), ...reader.problems];
  return all.map((problem) => ({ problem, row: problem.row === null ? null : countedRow(reader.sheet, { sheet: problem.sheet, row: problem.row }) }));
}

function problemsOfAll(tables: readonly ReadTable[], isTaken: (index: number, row: number | null) => boolean): Problem[] {
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
function label({ source }: ReadTable, sheet: string): string {
  return [source().name, sheet].filter((part) => part !== '').join(', ');
}

function rowOfTable(table: ReadTable, row: number): string {
  const place = placeOfRow(table.reader.sheet, row);
  return `row ${place.row} of ${label(table, place.sheet)}`;
}

/** The cell of a field; none where the table was put together from other cells. */
function cellOf({ reader }: ReadTable, field: string, row: number): string {
  const at = reader.columns.findIndex((column) => column.role === 'field' && reader.dictionary.fields[column.position]!.name === field);
  return at < 0 || reader.isReshaped ? '' : `${columnLetters(at)}${row}`;
}

function inOrder(problems: readonly PlacedProblem[]): PlacedProblem[] {
  return problems.toSorted((a, b) => (a.row ?? 0) - (b.row ?? 0));
}
