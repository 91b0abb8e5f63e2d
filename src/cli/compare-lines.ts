import type { UnmatchedInspection } from '../readings/compare-inspections.js';
import { counted, shareText, verdictWords } from '../readings/compare-words.js';
import { plainLine } from '../util/plain-line.js';
import type { ComparedReadings } from '../workbook/compare-readings.js';
import { bold } from './terminal.js';

/** How many lines of each table are printed. */
const MOST_DIFFERENCES = 50;
const MOST_UNMATCHED = 20;
const MOST_COLUMNS = 5;
const WORST = 'Worst keyed columns';
/** The longest text of a cell that is printed whole. */
const LONGEST = 32;

/** A comparison as lines of text: what differs, what only one keying has, the worst columns, and the summary last. */
export function compareLines(compared: ComparedReadings, stream: NodeJS.WriteStream, written: boolean): string[] {
  const { a, b, differences, missing, extra, columns, matched } = compared;
  const section = <T>(title: string, header: readonly string[], all: readonly T[], most: number, rowOf: (one: T) => string[]): string[] => {
    if (all.length === 0) return [];
    const rest = all.length - most;
    return [bold(stream, title), ...alignedTable(header, all.slice(0, most).map(rowOf)), ...(rest > 0 ? [`  and ${rest} more${written || title === WORST ? '' : '; -o differences.csv lists them all'}`] : []), ''];
  };
  const unmatchedRow = ({ row, unit, inspected_on, inspection_id }: UnmatchedInspection): string[] => [String(row), unit, inspected_on, inspection_id];
  const worst = columns.filter((column) => column.differences > 0);
  return [
    ...section('Cells that differ', ['unit', 'date', 'column', 'in A', 'A says', 'in B', 'B says', 'kind'], differences, MOST_DIFFERENCES, differenceRow),
    ...section('In A only', ['row', 'unit', 'date', 'inspection'], missing, MOST_UNMATCHED, unmatchedRow),
    ...section('In B only', ['row', 'unit', 'date', 'inspection'], extra, MOST_UNMATCHED, unmatchedRow),
    ...section(WORST, ['column', 'differences', 'agree'], worst, MOST_COLUMNS, (one) => [one.column, String(one.differences), shareText(one.agreement)]),
    `A: ${plain(a.name)}, ${counted(a.inspections, 'inspection')}. B: ${plain(b.name)}, ${counted(b.inspections, 'inspection')}. In both: ${matched}.`,
    `${counted(compared.compared_cells, 'cell')} compared, ${compared.agreeing_cells} agree.`,
    verdictWords(compared),
  ];
}

function differenceRow(one: ComparedReadings['differences'][number]): string[] {
  return [one.unit, one.inspected_on, one.column, one.cell_a, one.text_a, one.cell_b, one.text_b, one.kind];
}

/** Rows below their header, each column as wide as its longest cell. A cell without text is a dash. */
export function alignedTable(header: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const cells = [header, ...rows.map((row) => row.map((cell) => shorten(plain(cell)) || '-'))];
  const widths = header.map((_, index) => Math.max(...cells.map((row) => (row[index] ?? '').length)));
  return cells.map((row) => `  ${row.map((cell, index) => (index === row.length - 1 ? cell : cell.padEnd(widths[index]!))).join('  ')}`);
}

/** A text without control characters, which could move the cursor of a terminal. */
function plain(text: string): string {
  return plainLine(text).trim();
}

function shorten(text: string): string {
  return text.length <= LONGEST ? text : `${text.slice(0, LONGEST - 1)}…`;
}
