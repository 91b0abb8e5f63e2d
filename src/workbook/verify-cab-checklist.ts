import type { LimitCell } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { CAB_CHECKLIST_SHEET } from './sheets/cab-checklist-sheet.js';
import { verifyLine, type Line } from './verify-line.js';
import type { ExpectedSheet } from './verify-sheets.js';
import type { VerifyTally } from './verify-tally.js';

/** Compares the words of the sheet Cab checklist, row by row. What stands in the boxes, which are empty when it is written, is left alone. */
export function verifyCabChecklist(expected: ExpectedSheet, found: readonly Line[], tally: VerifyTally): void {
  const rows = new Map(found.map((line) => [line.number, line]));
  for (const line of expected.lines) {
    const empty = line.values.flatMap((value, index) => (value === null && (line.formulas[index] ?? null) === null ? [index] : []));
    const other = rows.get(line.number) ?? { number: line.number, values: [], formulas: [] };
    const beyond = other.values.map((_, index) => index).slice(line.values.length);
    verifyLine(line, other, { sheet: CAB_CHECKLIST_SHEET, tally, constant: 'text_changed', except: new Set([...empty, ...beyond]) });
  }
}

/** A plan with the numbers that the sheet Limits of a workbook holds in place of those of the limit set. */
export function withNumbers(plan: LimitPlan, numbers: ReadonlyMap<string, number | null>): LimitPlan {
  const changed = (cell: LimitCell | null): LimitCell | null => cell && { ...cell, value: numbers.get(cell.name) ?? cell.value };
  const checks = plan.checks.map((check) => ({ ...check, alternatives: check.alternatives.map((alternative) => ({ ...alternative, cells: alternative.cells.map(changed) })) }));
  const sets = plan.sets.map((part) => ({ ...part, checks: part.checks.map(({ check }) => checks.find((one) => one.check === check)!) }));
  return { ...plan, checks, sets };
}
