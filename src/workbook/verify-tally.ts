import type { StoredFormula } from '../formats/read-xlsx.js';
import { columnLetters } from '../util/column-letters.js';
import { FINDING_CODES, type Finding, type FindingCode } from './verify-finding.js';

/** What a cell holds. */
export type CellContent = string | number | boolean | null;

/** What is told of a finding; the rest has its usual value. */
export type FindingDetails = Omit<Finding, 'cell' | 'column' | 'citation'> & Partial<Finding>;

interface Run {
  readonly finding: Finding;
  readonly index: number;
  readonly first: number;
  last: number;
  /** Whether the rows below hold something else than the first. */
  varied: boolean;
}

/** Gathers findings and counts what was compared. */
export class VerifyTally {
  cellsCompared = 0;
  formulasCompared = 0;
  private readonly findings: Finding[] = [];
  private readonly runs = new Map<string, Run>();
  private withoutValue = 0;
  private firstWithoutValue: { readonly sheet: string; readonly cell: string } | null = null;

  add(details: FindingDetails): void {
    this.findings.push({ cell: '', column: '', citation: null, ...details });
  }

  /** Whether any of these was found. */
  has(...codes: readonly FindingCode[]): boolean {
    return this.findings.some(({ code }) => codes.includes(code));
  }

  /** Whether the lines of a sheet are not those that belong there. */
  hasLineFindings(name: string): boolean {
    return this.findings.some(({ code, sheet }) => sheet === name && (code === 'line_added' || code === 'line_missing'));
  }

  /**
   * A finding in a cell of a column, told once for the rows below that have the same.
   *
   * @param index 0-based column
   * @param kind what makes it the same, beside code and column
   */
  addToRun(index: number, row: number, kind: string, details: FindingDetails): void {
    const key = JSON.stringify([details.code, details.sheet, index, kind]);
    const run = this.runs.get(key);
    if (run?.last === row - 1) {
      run.last = row;
      run.varied ||= details.found !== run.finding.found;
      return;
    }
    if (run) this.endRun(run);
    const finding: Finding = { cell: '', column: '', citation: null, ...details };
    this.runs.set(key, { finding, index, first: row, last: row, varied: false });
  }

  /** Compares the stored value of a formula cell. A value that is not there at all is counted for one finding of its own. */
  compareStored(sheet: string, column: string, index: number, row: number, found: CellContent, expected: CellContent): void {
    this.cellsCompared += 1;
    if (sameContent(found, expected)) return;
    const cell = columnLetters(index) + row;
    if (found === null) {
      this.withoutValue += 1;
      this.firstWithoutValue ??= { sheet, cell };
    } else {
      this.add({ code: 'stored_value_differs', sheet, cell, column, found: showContent(found), expected: showContent(expected) });
    }
  }

  /** All findings, by code in the order of {@link FINDING_CODES}. */
  result(): Finding[] {
    for (const run of this.runs.values()) this.endRun(run);
    this.runs.clear();
    if (this.firstWithoutValue) {
      const { sheet, cell } = this.firstWithoutValue;
      this.add({ code: 'not_recalculated', sheet, cell, found: `${this.withoutValue} ${this.withoutValue === 1 ? 'formula' : 'formulas'} without a stored value, the first here`, expected: 'stored values; open the workbook in a spreadsheet program and save it, then verify that' });
      this.firstWithoutValue = null;
    }
    const order = new Map<FindingCode, number>(FINDING_CODES.map((code, at) => [code, at]));
    return [...this.findings].sort((a, b) => order.get(a.code)! - order.get(b.code)!);
  }

  private endRun({ finding, index, first, last, varied }: Run): void {
    const letters = columnLetters(index);
    const found = varied && finding.code === 'formula_replaced' ? `${finding.found} in the first, other values below` : finding.found;
    this.findings.push({ ...finding, found, cell: first === last ? letters + first : `${letters}${first}:${letters}${last}` });
  }
}

/** Numbers to 1e-9, relative beyond 1; texts but for spaces at their ends, which a spreadsheet program may drop; an empty text is a blank. */
export function sameContent(a: CellContent, b: CellContent): boolean {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
  const [one, other] = [a, b].map((content) => (typeof content === 'string' ? content.trim() || null : content));
  return one === other;
}

/** The content of a cell in words. */
export function showContent(content: CellContent): string {
  return content === null || content === '' ? 'blank' : typeof content === 'boolean' ? (content ? 'TRUE' : 'FALSE') : String(content);
}

/** A formula as people see it. */
export function showFormula({ text }: Pick<StoredFormula, 'text'>): string {
  return text.startsWith('=') || text.startsWith('{') ? text : `=${text}`;
}
