import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { Verdict } from '../limits/verdict.js';
import { fieldPosition } from '../readings/dictionary.js';
import { LowerCaseKeys } from '../util/lower-case-keys.js';
import { DayTally, type DayTallyState } from './day-tally.js';
import type { Evaluation } from './evaluation.js';
import type { FailRate } from './fail-rate.js';
import { FailRateCounter, type FailRateCounts } from './fail-rate-counter.js';
import { failureReason } from './failure-reason.js';
import type { FleetFigures } from './fleet-figures.js';
import { fleetTrends } from './fleet-trends.js';
import { FAIL_RATE_GROUPS, type FailRateGroup, type GroupFailRate, type RatePrior } from './group-fail-rate.js';
import { groupRates } from './group-rates.js';
import { NameCounters, type NamedCounts } from './name-counters.js';
import { pareto } from './pareto.js';
import type { PeriodLength, PeriodSummary } from './period-summary.js';
import { trendOfDays } from './trend-of-days.js';

/** What is told of the fleet as a whole and of its groups. */
export interface GroupsSummary extends Omit<FleetFigures, 'open' | 'overdue' | 'first_time' | 'closed'> {
  /** How long the periods of the trend are. */
  readonly by: PeriodLength;
  readonly trend: readonly PeriodSummary[];
  readonly fail_rates: readonly GroupFailRate[];
  readonly priors: readonly RatePrior[];
}

const BY_FIELD = ['site', 'vehicle_kind', 'inspector'] as const;

type NamedRate = FailRate & { readonly name: string };

/** What a summariser of groups has gathered. */
export interface GroupsState {
  readonly days: ReadonlyMap<string, DayTallyState>;
  readonly undated: DayTallyState;
  readonly checks: ReadonlyMap<string, FailRateCounts>;
  readonly circuits: readonly FailRateCounts[];
  readonly sets: readonly FailRateCounts[];
  readonly named: Readonly<Record<(typeof BY_FIELD)[number], NamedCounts>>;
  readonly reasons: NamedCounts;
  readonly leakPlaces: NamedCounts;
}

interface Named {
  readonly name: string;
  readonly counter: FailRateCounter;
}

/**
 * Summarises a fleet by group and by period, one evaluation after the other, in any order of dates. It keeps counts by
 * group and one tally for each day. Inspections without a date count everywhere but in the trend and its periods.
 */
export class GroupsSummariser {
  private readonly days = new Map<string, DayTally>();
  private readonly unitKeys = new LowerCaseKeys();
  private readonly undated = new DayTally(this.unitKeys);
  private readonly checks: ReadonlyMap<string, Named>;
  private readonly circuits: readonly (Named & { readonly column: number })[];
  /** Of several limit sets, each; empty where there is but one. */
  private readonly sets: readonly (Named & { readonly column: number })[];
  private readonly named: Readonly<Record<(typeof BY_FIELD)[number], NameCounters>> = { site: new NameCounters(), vehicle_kind: new NameCounters(), inspector: new NameCounters() };
  private readonly reasons = new NameCounters();
  private readonly leakPlaces = new NameCounters();
  private readonly positions: Readonly<Record<(typeof BY_FIELD)[number] | 'leak_place', number>>;

  constructor(private readonly plan: LimitPlan) {
    const at = (name: string): number => fieldPosition(plan.dictionary, name);
    this.positions = { site: at('site'), vehicle_kind: at('vehicle_kind'), inspector: at('inspector'), leak_place: at('leak_place') };
    const counted = plan.checks.filter(({ comparator }) => comparator !== 'no_number');
    this.checks = new Map(counted.map(({ check, title }) => [check, { name: title, counter: new FailRateCounter() }]));
    this.circuits = plan.circuits.map(({ title, column }) => ({ name: title, counter: new FailRateCounter(), column: plan.columns.findIndex(({ id }) => id === column) }));
    this.sets = plan.sets.length < 2 ? [] : plan.sets.map(({ set: { title }, column }) => ({ name: title, counter: new FailRateCounter(), column: plan.columns.findIndex(({ id }) => id === column) }));
  }

  add(evaluation: Evaluation): void {
    const { verdict, inspected_on: on, computed } = evaluation;
    this.tallyOf(on).add(evaluation);
    for (const { check, verdict: result } of evaluation.checks) this.checks.get(check)?.counter.add(result);
    for (const { counter, column } of [...this.circuits, ...this.sets]) {
      const result = computed[column] ?? null;
      if (result !== null) counter.add(result as Verdict);
    }
    for (const field of BY_FIELD) this.count(this.named[field], evaluation, field);
    if (verdict !== 'fail') return;
    this.count(this.leakPlaces, evaluation, 'leak_place');
    for (const result of evaluation.checks) {
      if (result.verdict !== 'fail') continue;
      const check = this.plan.checks.find((one) => one.check === result.check)!;
      this.reasons.add(failureReason(this.plan, check, result, evaluation.measures), 'fail');
    }
  }

  /** What was gathered so far, as plain data, for another summariser of the same plan to merge. */
  state(): GroupsState {
    const counts = (named: readonly Named[]): FailRateCounts[] => named.map(({ counter }) => counter.counts());
    return {
      days: new Map([...this.days].map(([on, tally]) => [on, tally.state()])),
      undated: this.undated.state(),
      checks: new Map([...this.checks].map(([check, { counter }]) => [check, counter.counts()])),
      circuits: counts(this.circuits),
      sets: counts(this.sets),
      named: { site: this.named.site.counts(), vehicle_kind: this.named.vehicle_kind.counts(), inspector: this.named.inspector.counts() },
      reasons: this.reasons.counts(),
      leakPlaces: this.leakPlaces.counts(),
    };
  }

  /** Adds what another one gathered of later inspections. */
  merge(other: GroupsState): void {
    for (const [on, tally] of other.days) this.tallyOf(on).merge(tally);
    this.undated.merge(other.undated);
    for (const [check, counts] of other.checks) this.checks.get(check)?.counter.merge(counts);
    this.circuits.forEach(({ counter }, index) => counter.merge(other.circuits[index]!));
    this.sets.forEach(({ counter }, index) => counter.merge(other.sets[index]!));
    for (const field of BY_FIELD) this.named[field].merge(other.named[field]);
    this.reasons.merge(other.reasons);
    this.leakPlaces.merge(other.leakPlaces);
  }

  /**
   * What was gathered.
   *
   * @param by how long the periods are; null: as suits the dates
   */
  result(by: PeriodLength | null): GroupsSummary {
    const periods = trendOfDays(this.days, by);
    const all = this.all();
    const tables = FAIL_RATE_GROUPS.map((group) => groupRates(group, this.counted(group, all, periods.trend)));
    const { inspections, units, tested, failed, recheck, rate, low, high, released_loss_median, applied_loss_median, buildup_time_median } = all;
    return {
      by: periods.by,
      trend: periods.trend,
      fail_rates: tables.flatMap(({ rates }) => rates),
      priors: tables.flatMap(({ prior }) => prior ?? []),
      ...{ inspections, units, tested, failed, recheck, rate, low, high },
      ...{ released_loss_median, applied_loss_median, buildup_time_median },
      trends: fleetTrends(periods.trend, periods.by),
      reasons: pareto(this.reasons.result()),
      leak_places: pareto(this.leakPlaces.result()),
    };
  }

  private tallyOf(on: string | null): DayTally {
    if (on === null) return this.undated;
    let tally = this.days.get(on);
    if (!tally) this.days.set(on, (tally = new DayTally(this.unitKeys)));
    return tally;
  }

  private count(counters: NameCounters, { inspection, verdict }: Evaluation, field: keyof typeof this.positions): void {
    const name = inspection.values[this.positions[field]];
    if (typeof name === 'string') counters.add(name, verdict);
  }

  private all(): ReturnType<DayTally['result']> {
    const all = new DayTally(this.unitKeys);
    for (const tally of [...this.days.values(), this.undated]) all.merge(tally.state());
    return all.result();
  }

  private counted(group: FailRateGroup, all: FailRate, trend: readonly PeriodSummary[]): NamedRate[] {
    const listed = (named: Iterable<Named>): NamedRate[] => [...named].map(({ name, counter }) => ({ name, ...counter.result() }));
    switch (group) {
      case 'check':
        return listed(this.checks.values());
      case 'circuit':
        return listed(this.circuits);
      case 'limit_set':
        return this.sets.length > 0 ? listed(this.sets) : [{ name: this.plan.set.title, ...all }];
      case 'period':
        return trend.map((period) => ({ ...period, name: period.period }));
      default:
        return this.named[group].result();
    }
  }
}
