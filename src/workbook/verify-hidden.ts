import type { HiddenColumns, StoredRow } from '../formats/read-xlsx.js';
import { columnLetters } from '../util/column-letters.js';
import type { VerifyTally } from './verify-tally.js';

/** Gathers rows that do not show, and tells of them and of columns that do not show: one finding for each run of neighbours. */
export class HiddenParts {
  private readonly rows = new Map<string, { readonly first: number; last: number }[]>();

  constructor(private readonly tally: VerifyTally) {}

  row(sheet: string, { number, hidden }: StoredRow): void {
    if (!hidden) return;
    const runs = this.rows.get(sheet) ?? [];
    this.rows.set(sheet, runs);
    const run = runs.at(-1);
    if (run?.last === number - 1) run.last = number;
    else runs.push({ first: number, last: number });
  }

  finish(sheet: string, columns: readonly HiddenColumns[]): void {
    for (const { first, last } of this.rows.get(sheet) ?? []) {
      this.tally.add({ code: 'hidden_rows', sheet, cell: `${first}:${last}`, found: first === last ? `row ${first} hidden` : `rows ${first} to ${last} hidden`, expected: 'rows that show' });
    }
    for (const { first, last } of joined(columns)) {
      const [from, to] = [columnLetters(first - 1), columnLetters(last - 1)];
      this.tally.add({ code: 'hidden_columns', sheet, cell: `${from}:${to}`, found: first === last ? `column ${from} hidden` : `columns ${from} to ${to} hidden`, expected: 'columns that show' });
    }
  }
}

function joined(columns: readonly HiddenColumns[]): HiddenColumns[] {
  const runs: { first: number; last: number }[] = [];
  for (const { first, last } of columns) {
    const run = runs.at(-1);
    if (run?.last === first - 1) run.last = last;
    else runs.push({ first, last });
  }
  return runs;
}
