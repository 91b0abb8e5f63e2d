import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { Evaluation } from './evaluation.js';
import { GroupsSummariser, type GroupsState } from './groups-summariser.js';
import type { PeriodLength } from './period-summary.js';
import type { FleetSummary } from './summary.js';
import { UnitsSummariser, type UnitsState } from './units-summariser.js';

/** Which inspections are counted, and how they are put together. Dates are `yyyy-mm-dd`, both inclusive. */
export interface SummaryOptions {
  /** Trend and rates count from this day on. */
  readonly from?: string | null;
  /** Everything is told as it stood at the end of this day; later inspections are left out. */
  readonly to?: string | null;
  /** How long the periods of the trend are; without it, as suits the span. */
  readonly by?: PeriodLength | null;
}

/** What a summariser has gathered, as plain data that can go from one thread or machine to another. */
export interface FleetState {
  readonly latest: string | null;
  readonly units: UnitsState;
  readonly groups: GroupsState;
}

/**
 * Summarises a fleet, one evaluation after the other, in any order of dates.
 *
 * @example
 * const summariser = new FleetSummariser(plan);
 * for (const evaluation of evaluations) summariser.add(evaluation);
 * summariser.result().units[0] // the unit that uses the highest share of a leak's limit now
 * @example
 * // Two halves of a table, summarised apart: the same as all of it in one go.
 * const [first, second] = halves.map((half) => summarise(plan, half));
 * first.merge(second.state(), lastRowOfFirst);
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

  /** What was gathered so far, for another summariser of the same plan and options to merge. It shares its parts with this one. */
  state(): FleetState {
    return { latest: this.latest, units: this.units.state(), groups: this.groups.state() };
  }

  /**
   * Adds what another summariser gathered of a later part of the table: the result is that of both parts in one go.
   *
   * @param rowsBefore how far its rows move down, so that they come after those gathered here; 0 where they do already
   */
  merge(other: FleetState, rowsBefore = 0): void {
    if (other.latest !== null && (this.latest === null || other.latest > this.latest)) this.latest = other.latest;
    this.units.merge(other.units, rowsBefore);
    this.groups.merge(other.groups);
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
