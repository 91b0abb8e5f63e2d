import type { LimitSet } from '../../src/limits/limit-set.js';
import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import type { EvaluateOptions } from '../../src/workbook/opened-fleet.js';
import { ownSet, SOURCE } from '../support/evaluate-rows.js';

/** A set with one check, the low-air warning at 60 psi or more, that ends up as the verdict of the inspection. */
export function warningSet(more: Readonly<Record<string, unknown>> = {}): LimitSet {
  return parseLimitSet(ownSet({ checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: SOURCE }], ...more }), 'own.json');
}

/** Cells of rows by column name. */
export type Cells = Readonly<Record<string, string | number>>;

/** `tested` rows of which the first `failed` fail; unit after unit, a day each from `first` on. */
export function warnings(failed: number, tested: number, { first = '2026-03-01', ...cells }: { readonly first?: string } & Cells = {}): Cells[] {
  const day = (index: number): string => new Date(Date.parse(`${first}T00:00:00Z`) + index * 86_400_000).toISOString().slice(0, 10);
  return Array.from({ length: tested }, (_, index) => ({ unit: `T-${index}`, inspected_on: day(index), light_on_at: index < failed ? 50 : 70, ...cells }));
}

/** The rows as CSV. */
export function csvOf(rows: readonly Cells[]): Uint8Array {
  const header = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return Buffer.from([header, ...rows.map((row) => header.map((name) => row[name] ?? ''))].map((cells) => cells.join(',')).join('\n'));
}

/** Evaluates rows beside others against the set with the one check. */
export function beside(now: readonly Cells[], before: readonly Cells[], options: EvaluateOptions = {}): Promise<EvaluatedFleet> {
  return evaluateReadings(csvOf(now), { limits: warningSet(), name: 'now.csv', baseline: csvOf(before), baselineName: 'before.csv', ...options });
}
