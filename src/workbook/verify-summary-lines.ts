import { verifyLine, type Line } from './verify-line.js';
import { matchLines } from './verify-match.js';
import { showContent, type VerifyTally } from './verify-tally.js';

/** Lines of a summary, one for each name in their first column. */
export interface SummaryTask {
  readonly sheet: string;
  /** What a name is, such as `unit`. */
  readonly what: string;
  readonly columnName: (index: number) => string;
  /** The lines of the workbook. */
  readonly found: readonly Line[];
  /** The lines as they are written for the inspections of the workbook. */
  readonly known: readonly Line[];
  /** For a list that grows by formulas: its lines as they are written without inspections, and the names in their order. */
  readonly growing: { readonly lines: readonly Line[]; readonly names: readonly string[] } | null;
  readonly tally: VerifyTally;
}

const NAME_ONLY: ReadonlySet<number> = new Set([0]);

/** Compares the lines of a summary with those of the same names, wherever they were sorted to. */
export function verifySummaryLines(task: SummaryTask): void {
  if (task.growing) verifyGrowing(task, task.growing);
  else verifyNamed(task);
}

function verifyNamed({ sheet, what, columnName, found, known, tally }: SummaryTask): void {
  const { pairs, missing, added } = matchLines(known, found, nameKey);
  for (const [line, other] of pairs) verifyLine(line, other, { sheet, tally, columnName, constant: 'stored_value_differs', except: NAME_ONLY });
  for (const line of missing) tally.add({ code: 'line_missing', sheet, column: nameOf(line), found: 'no line', expected: `a line for this ${what}` });
  for (const line of added) tally.add({ code: 'line_added', sheet, cell: `A${line.number}`, column: nameOf(line), found: `a line for this ${what}`, expected: `no line: no inspection has this ${what}` });
}

function verifyGrowing({ sheet, columnName, found, known, tally }: SummaryTask, { lines, names }: { readonly lines: readonly Line[]; readonly names: readonly string[] }): void {
  const valuesOf = new Map(known.map((line) => [nameKey(line), line.values]));
  for (const [position, line] of lines.entries()) {
    const name = names[position] ?? null;
    const values = (name === null ? undefined : valuesOf.get(name.toLowerCase())) ?? line.values;
    const other = found[position];
    if (other) verifyLine({ ...line, values: [name, ...values.slice(1)] }, other, { sheet, tally, columnName, constant: 'stored_value_differs' });
    else tally.add({ code: 'line_missing', sheet, column: name ?? '', found: 'no line', expected: `${lines.length} lines` });
  }
}

function nameKey({ values }: Line): string {
  return showContent(values[0] ?? null).toLowerCase();
}

function nameOf({ values }: Line): string {
  return showContent(values[0] ?? null);
}
