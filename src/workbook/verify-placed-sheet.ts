import { isBlankLine, verifyLine, type Line } from './verify-line.js';
import type { FindingCode } from './verify-finding.js';
import { sameContent, type VerifyTally } from './verify-tally.js';

/** A sheet whose lines stand in their places; rows may have been put in above its column titles. */
export interface PlacedSheet {
  readonly sheet: string;
  /** The lines as they are written for the inspections of the workbook. */
  readonly expected: readonly Line[];
  /** The lines of the workbook. */
  readonly found: readonly Line[];
  /** The row of the column titles, as it is written. */
  readonly titleRow: number;
  /** Cells that are for people to fill in: 0-based columns by row, as they are written. */
  readonly entries?: (row: number) => ReadonlySet<number> | undefined;
  /** Whether what no formula gives is compared; where entries were changed since, it tells of how they were. */
  readonly asWritten: boolean;
  /** Whether what formulas give is compared; where a name of the list was typed over, much follows from it. */
  readonly results: boolean;
  /** Tells the titles of further tables below the first. */
  readonly isTitles?: (line: Line) => boolean;
  readonly tally: VerifyTally;
}

/**
 * How many rows further down the column titles stand than they are written; null where they stand nowhere.
 *
 * @example titlesMovedBy(expected, found, 6) // 2 when two rows were put in above
 */
export function titlesMovedBy(expected: readonly Line[], found: readonly Line[], titleRow: number): number | null {
  const titles = expected.find(({ number }) => number === titleRow)!.values;
  const shown = titles.flatMap((title, index) => (title === null ? [] : [index])).slice(0, 3);
  const line = found.find(({ values }) => shown.every((index) => sameContent(values[index] ?? null, titles[index]!)));
  return line ? line.number - titleRow : null;
}

/** Compares a sheet cell by cell, and tells of lines below the last that belongs there. */
export function verifyPlacedSheet({ sheet, expected, found, titleRow, entries, asWritten, results, isTitles, tally }: PlacedSheet): void {
  const moved = titlesMovedBy(expected, found, titleRow);
  const titles = expected.find(({ number }) => number === titleRow)!.values;
  if (moved === null) {
    tally.add({ code: 'line_missing', sheet, column: 'column titles', found: 'no such line', expected: titles.filter((title) => title !== null).slice(0, 3).join(', ') });
    return;
  }
  let above = titles;
  const columnName = (index: number): string => String(above[index] ?? '');
  const at = new Map(found.map((line) => [line.number, line]));
  for (const line of expected) {
    if (isTitles?.(line)) above = line.values;
    const number = line.number + moved;
    const constant: FindingCode = line.number > titleRow ? 'stored_value_differs' : 'text_changed';
    verifyLine(line, at.get(number) ?? { number, values: [], formulas: [] }, { sheet, tally, constant, columnName, except: entries?.(line.number), constants: asWritten || line.number === titleRow, results });
  }
  const last = expected.at(-1)!.number + moved;
  const width = titles.findLastIndex((title) => title !== null) + 1;
  for (const line of found) {
    if (line.number > last && !isBlankLine(line, width)) tally.add({ code: 'line_added', sheet, cell: `A${line.number}`, found: 'a line below the last', expected: 'no line' });
  }
}
