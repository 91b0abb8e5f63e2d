import type { BaselineComparison } from '../../fleet/baseline-comparison.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { periodCounts, type OpenPeriod, type PeriodCounts } from '../period-counts.js';
import type { EvaluatedRows } from '../sheet-context.js';
import { spanWords } from '../span-words.js';

/** What is set beside what: a label, and both sides in words. */
export interface BaselineFact {
  readonly label: string;
  readonly then: string | number;
  readonly now: string | number;
}

/** What is set beside what. */
export function baselineFacts({ evaluations, source, summary, baselineInfo: info }: EvaluatedRows, { source: earlier, rates, before }: BaselineComparison, { set }: LimitPlan): BaselineFact[] {
  const now = periodCounts(evaluations, summary.period);
  const facts: BaselineFact[] = [
    { label: 'Source', then: earlier.name, now: source.name },
    { label: 'SHA-256 of its bytes', then: earlier.sha256, now: source.sha256 },
    { label: 'Inspections in the table', then: earlier.inspections, now: source.inspections },
    { label: 'Dates of its inspections', then: info ? datesWords(info.counts) : datesWords({ first: before.from, last: before.to }), now: datesWords(now) },
  ];
  if (info) {
    facts.push(
      { label: 'Period counted', then: `${spanWords(info.period)}${isOpen(info.period) ? '' : ', as the workbook says'}`, now: spanWords(summary.period) },
      { label: 'Inspections counted', then: countedOf(info.period, info.counts), now: countedOf(summary.period, now) },
      { label: 'of them on both sides', then: info.shared, now: info.shared },
    );
  }
  const tested = rates.find(({ group }) => group === 'all');
  if (tested) facts.push({ label: 'of them passed or failed', then: tested.before.tested, now: tested.now.tested });
  return [...facts, { label: 'Limit set', then: set.id, now: set.id }];
}

function isOpen({ from, to }: OpenPeriod): boolean {
  return from === null && to === null;
}

function countedOf(period: OpenPeriod, { inside, undated }: PeriodCounts): number {
  return inside + (isOpen(period) ? undated : 0);
}

function datesWords({ first, last }: Pick<PeriodCounts, 'first' | 'last'>): string {
  return first === null || last === null ? 'none could be read' : first === last ? first : `${first} to ${last}`;
}
