import type { FleetSummary } from '../fleet/summary.js';
import { BLANK_MONTHS } from './sheets/trend-sheet.js';
import type { Line } from './verify-line.js';

/**
 * The lines of a sheet of a workbook for entry: its formulas are those of the empty sheet, and their results those of
 * the same sheet with inspections. What no formula gives stays as it was written.
 */
export function linesForEntry(empty: readonly Line[], filled: readonly Line[]): Line[] {
  const at = new Map(filled.map((line) => [line.number, line]));
  return empty.map((line) => {
    const other = at.get(line.number);
    return { ...line, values: line.values.map((value, index) => (line.formulas[index] && other ? (other.values[index] ?? null) : value)) };
  });
}

/** A summary as the formulas of a workbook for entry know it: without what is computed when an evaluated workbook is written. */
export function summaryForEntry(summary: FleetSummary): FleetSummary {
  return { ...summary, priors: [], fail_rates: summary.fail_rates.map((rate) => ({ ...rate, estimate: null })), trend: summary.trend.slice(0, BLANK_MONTHS), units: summary.units.map((unit) => ({ ...unit, trend_of: null, trends: [], buildup_explained: null })) };
}
