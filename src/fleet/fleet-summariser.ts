import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { Evaluation } from './evaluation.js';
import { GroupsSummariser } from './groups-summariser.js';
import type { PeriodLength } from './period-summary.js';
import type { FleetSummary } from './summary.js';
import { UnitsSummariser } from './units-summariser.js';

/** Which inspections are counted, and how they are put together. Dates are `yyyy-mm-dd`, both inclusive. */
export interface SummaryOptions {
  /** Trend and rates count from this day on. */
  readonly from?: string | null;
  /** Everything is told as it stood at the end of this day; later inspections are left out. */
  readonly to?: string | null;
  /** How long the periods of the trend are; without it, as suits the span. */
  readonly by?: PeriodLength | null;
}

/**
 * Summarises a fleet, one evaluation after the other, in any order of dates.
 *
 * @example
 * const summariser = new FleetSummariser(plan);
 * for (const evaluation of evaluations) summariser.add(evaluation);
 * summariser.result().units[0] // the unit that uses the highest share of a leak's limit now
 */
export class FleetSummariser {
  private readonly units: UnitsSummariser;
  private readonly groups: GroupsSummariser;
  private latest: string | null = null;

  constructor(
    plan: LimitPlan,
    private readonly options: SummaryOptions = {},
  ) {
    this.units = new UnitsSummariser(plan);
    this.groups = new GroupsSummariser(plan);
  }

  /** Counts one inspection, if it lies in the period; they may come in any order. */
  add(evaluation: Evaluation): void {
    const { from, to } = this.options;
    const on = evaluation.inspected_on;
    if (to && (on === null || on > to)) return;
    if (on !== null && (this.latest === null || on > this.latest)) this.latest = on;
    this.units.add(evaluation);
    if (!from || (on !== null && on >= from)) this.groups.add(evaluation);
  }

  /** The figures of all that was counted so far. */
  result(): FleetSummary {
    const from = this.options.from ?? null;
    const to = this.options.to ?? null;
    const counted_to = to ?? this.latest;
    const { units, open_work, ...followUp } = this.units.result({ from, countedTo: counted_to });
    const { by, trend, fail_rates, priors, ...figures } = this.groups.result(this.options.by ?? null);
    return { period: { from, to, by }, counted_to, units, trend, fail_rates, priors, open_work, fleet: { ...figures, ...followUp } };
  }
}
