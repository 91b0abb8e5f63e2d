import type { Evaluation } from '../../src/fleet/evaluation.js';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import { compileLimitSet, type LimitPlan } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { readInspections } from '../../src/readings/read-inspections.js';
import type { RawCell, RawRow } from '../../src/util/raw-table.js';

/** The cells of one row by column name; the unit and the date are filled where they are left out. */
export type Row = Readonly<Record<string, RawCell>>;

/** A shipped limit set, compiled. */
export function shippedPlan(id: string): LimitPlan {
  return compileLimitSet(loadLimitSet(id));
}

/** A limit set of the test's own, compiled: what is left out of its frame is filled. */
export function ownPlan(parts: Readonly<Record<string, unknown>>): LimitPlan {
  return compileLimitSet(parseLimitSet(ownSet(parts), 'own.json'));
}

/** The text of a limit set of the test's own. */
export function ownSet(parts: Readonly<Record<string, unknown>>): string {
  return JSON.stringify({ format: 'treadlebook-limits', version: 1, id: 'own', title: 'Own', authority: 'None', notice: 'For a test.', ...parts });
}

/** A source for a check of the test's own. */
export const SOURCE = { citation: 'a test', printed: 'as printed', status: 'common practice' };

/** Reads rows as a file would give them and evaluates them. */
export async function evaluateRows(plan: LimitPlan, rows: readonly Row[]): Promise<Evaluation[]> {
  const filled = rows.map((row) => ({ unit: 'T1', inspected_on: '2026-03-14', ...row }));
  const header = [...new Set(filled.flatMap((row) => Object.keys(row)))];
  const table: RawRow[] = [header, ...filled.map((row) => header.map((name) => (row as Row)[name] ?? null))].map((cells, index) => ({ number: index + 1, cells }));
  const source = async function* (): AsyncGenerator<RawRow> {
    yield* table;
  };
  const reader = await readInspections({ sheet: '', date1904: false, rows: source() }, { dictionary: plan.dictionary, name: 'test' });
  const evaluator = new RowEvaluator(plan);
  const evaluations: Evaluation[] = [];
  for await (const inspection of reader.inspections) evaluations.push(evaluator.evaluate(inspection));
  return evaluations;
}

/** Evaluates one row. */
export async function evaluateRow(plan: LimitPlan, row: Row): Promise<Evaluation> {
  return (await evaluateRows(plan, [row]))[0]!;
}

/** The verdict of one check of a row; null where the check does not apply. */
export async function verdictOf(plan: LimitPlan, check: string, row: Row): Promise<string | null> {
  return (await evaluateRow(plan, row)).checks.find((result) => result.check === check)?.verdict ?? null;
}
