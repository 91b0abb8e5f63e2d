import type { BaselineComparison, RateDifference } from '../fleet/baseline-comparison.js';
import { compareFleets, type SummarisedFleet } from '../fleet/compare-fleets.js';
import type { FailRate } from '../fleet/fail-rate.js';
import type { GroupFailRate } from '../fleet/group-fail-rate.js';
import type { FleetSummary } from '../fleet/summary.js';
import { wilsonInterval } from '../statistics/wilson-interval.js';
import { BASELINE_COLUMNS } from './sheets/baseline-columns.js';
import { BASELINE_RATE_HEADINGS } from './sheets/baseline-rates.js';
import { BASELINE_SHEET } from './sheets/baseline-sheet.js';
import { columnLetters } from '../util/column-letters.js';
import type { Line } from './verify-line.js';
import { sameContent, showContent, type CellContent, type VerifyTally } from './verify-tally.js';

type Group = RateDifference['group'];

const SOURCE: BaselineComparison['source'] = { name: '', sha256: '', inspections: 0 };
const at = (id: string): number => BASELINE_COLUMNS.findIndex((column) => column.id === id);
const GROUP_OF = new Map(BASELINE_RATE_HEADINGS.map(([group, heading]) => [heading, group]));

interface FoundRate {
  readonly line: Line;
  readonly group: Group;
  readonly name: string;
  readonly then: FailRate;
}

/**
 * Compares the rates of the sheet Baseline: those of now with the inspections of this workbook, and what is computed
 * with those of then. The counts of then come from another table, which is not here.
 */
export function verifyBaseline(summary: FleetSummary, found: readonly Line[], tally: VerifyTally): void {
  const rates = ratesIn(found);
  const all = rates.find(({ group }) => group === 'all');
  if (!all) {
    tally.add({ code: 'line_missing', sheet: BASELINE_SHEET, column: 'All inspections', found: 'no such line', expected: 'All inspections' });
    return;
  }
  const earlier = rates.flatMap(({ group, name, then }): GroupFailRate[] => (group === 'all' ? [] : [{ ...then, group, name, estimate: null, flag: null }]));
  const before: SummarisedFleet = { source: SOURCE, summary: { ...summary, fail_rates: earlier, fleet: { ...summary.fleet, ...all.then } } };
  const keyOf = (group: Group, name: string): string => JSON.stringify([group, name.toLowerCase()]);
  const expected = new Map(compareFleets({ source: SOURCE, summary }, before).rates.map((rate) => [keyOf(rate.group, rate.name), rate]));
  for (const { line, group, name } of rates) {
    const rate = expected.get(keyOf(group, name))!;
    for (const [index, { title, value }] of BASELINE_COLUMNS.entries()) {
      const [right, content] = [value(rate) as CellContent, line.values[index] ?? null];
      tally.cellsCompared += 1;
      if (!sameContent(content, right)) tally.add({ code: 'stored_value_differs', sheet: BASELINE_SHEET, cell: columnLetters(index) + line.number, column: title, found: showContent(content), expected: showContent(right) });
    }
  }
}

function ratesIn(found: readonly Line[]): FoundRate[] {
  const rates: FoundRate[] = [];
  let group: Group | null = null;
  for (const line of found) {
    const name = line.values[0];
    if (typeof name !== 'string') continue;
    const heading = GROUP_OF.get(name);
    const count = (id: string): number => Number(line.values[at(id)] ?? 0);
    if (heading !== undefined && line.values[at('then_tested')] == null) group = heading;
    else if (group !== null && typeof line.values[at('then_tested')] === 'number') rates.push({ line, group, name, then: rateOf(count('then_tested'), count('then_failed'), count('then_recheck')) });
  }
  return rates;
}

function rateOf(tested: number, failed: number, recheck: number): FailRate {
  const interval = tested > 0 && failed <= tested ? wilsonInterval(failed, tested) : null;
  return { tested, failed, recheck, rate: tested === 0 ? null : failed / tested, low: interval?.low ?? null, high: interval?.high ?? null };
}
