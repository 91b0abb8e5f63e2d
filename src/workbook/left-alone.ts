import type { XlsxBook } from '../formats/read-xlsx.js';
import type { Problem } from '../readings/problem.js';

/** What is told of things in a workbook that were left alone. */
export interface LeftAlone {
  readonly problems: readonly Problem[];
  readonly notes: readonly string[];
}

/**
 * What a workbook holds beside its table: what reaches beyond it (macros, links to other files, data connections, formulas that fetch) is a problem each,
 * a hidden sheet a note.
 *
 * @param named sheets of which something is told already
 */
export function leftAloneIn({ findings }: Pick<XlsxBook, 'findings'>, named: readonly string[]): LeftAlone {
  return {
    problems: findings.filter(({ kind }) => kind === 'outside').map(({ sheet, cell, text }) => ({ code: 'left_alone', sheet, row: null, column: '', cell, found: text, expected: 'readings alone; what reaches beyond the cells is never run or fetched' })),
    notes: findings.filter(({ kind, sheet }) => kind === 'hidden sheet' && !named.includes(sheet)).map(({ text }) => `${text} It was not read.`),
  };
}
