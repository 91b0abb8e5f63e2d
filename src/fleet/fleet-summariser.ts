import type { LimitPlan } from '../limits/compile-limit-set.js';
import { LEAK_SHARE } from '../limits/overall-trees.js';
import type { Verdict } from '../limits/verdict.js';
import { fieldPosition } from '../readings/dictionary.js';
import type { Evaluation } from './evaluation.js';
import { FailRateCounter } from './fail-rate-counter.js';
import { MonthTally } from './month-tally.js';
import { FAIL_RATE_GROUPS, type FailRateGroup, type FleetSummary, type GroupFailRate } from './summary.js';
import { UnitTally } from './unit-tally.js';

/**
 * Summarises a fleet, one evaluation after the other.
 *
 * @example
 * const summariser = new FleetSummariser(plan);
 * for (const evaluation of evaluations) summariser.add(evaluation);
 * summariser.result().units[0] // the unit that used the highest share of a leak's limit
 */
export class FleetSummariser {
  private readonly units = new Map<string, UnitTally>();
  private readonly months = new Map<string, MonthTally>();
  private readonly rates: Readonly<Record<FailRateGroup, Map<string, { name: string; counter: FailRateCounter }>>>;
  private readonly shareAt: number;
  private readonly positions: Readonly<Record<'vehicle_kind' | 'site' | 'inspector', number>>;

  constructor(plan: LimitPlan) {
    this.rates = { check: new Map(), vehicle_kind: new Map(), site: new Map(), inspector: new Map() };
    for (const { check, title, comparator } of plan.checks) {
      if (comparator !== 'no_number') this.rates.check.set(check, { name: title, counter: new FailRateCounter() });
    }
    this.shareAt = plan.columns.findIndex(({ id }) => id === LEAK_SHARE);
    const at = (name: string): number => fieldPosition(plan.dictionary, name);
    this.positions = { vehicle_kind: at('vehicle_kind'), site: at('site'), inspector: at('inspector') };
  }

  add(evaluation: Evaluation): void {
    const text = (group: 'vehicle_kind' | 'site' | 'inspector'): string | null => evaluation.inspection.values[this.positions[group]] as string | null;
    for (const { check, verdict } of evaluation.checks) this.rates.check.get(check)?.counter.add(verdict);
    for (const group of ['vehicle_kind', 'site', 'inspector'] as const) this.count(group, text(group), evaluation.verdict);
    if (evaluation.unit !== null) {
      const key = evaluation.unit.toLowerCase();
      let tally = this.units.get(key);
      if (!tally) this.units.set(key, (tally = new UnitTally(evaluation.unit)));
      tally.add(evaluation, this.shareAt < 0 ? null : (evaluation.computed[this.shareAt] as number | null), text('vehicle_kind'), text('site'));
    }
    if (evaluation.inspected_on !== null) {
      const month = evaluation.inspected_on.slice(0, 7);
      let tally = this.months.get(month);
      if (!tally) this.months.set(month, (tally = new MonthTally(month)));
      tally.add(evaluation);
    }
  }

  result(): FleetSummary {
    const units = [...this.units.values()].map((tally) => tally.result());
    units.sort((a, b) => (b.share_now ?? -1) - (a.share_now ?? -1) || (b.worst_share ?? -1) - (a.worst_share ?? -1) || (a.unit < b.unit ? -1 : 1));
    const trend = [...this.months.values()].map((tally) => tally.result()).sort((a, b) => (a.month < b.month ? -1 : 1));
    return { units, trend, fail_rates: FAIL_RATE_GROUPS.flatMap((group) => this.groupRates(group)) };
  }

  private count(group: FailRateGroup, name: string | null, verdict: Verdict): void {
    if (name === null) return;
    const key = name.toLowerCase();
    let entry = this.rates[group].get(key);
    if (!entry) this.rates[group].set(key, (entry = { name, counter: new FailRateCounter() }));
    entry.counter.add(verdict);
  }

  private groupRates(group: FailRateGroup): GroupFailRate[] {
    const rates = [...this.rates[group].values()].map(({ name, counter }) => ({ group, name, ...counter.result() }));
    return rates.sort((a, b) => (b.rate ?? -1) - (a.rate ?? -1) || (a.name < b.name ? -1 : 1));
  }
}
