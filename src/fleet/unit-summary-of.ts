import type { LimitPlan } from '../limits/compile-limit-set.js';
import { buildupExplained } from './buildup-explained.js';
import type { FailureCourse } from './failure-episodes.js';
import { lossSeries } from './loss-series.js';
import { lossTrend } from './loss-trend.js';
import { nextDue } from './next-due.js';
import { ordinalDay } from './ordinal-day.js';
import type { RankedLoss } from './ranked-losses.js';
import { aroundRepair, lastEffectiveRepair } from './repairs.js';
import type { UnitHistory } from './unit-history.js';
import type { UnitRecord } from './unit-record.js';
import type { LossTrend, UnitSummary } from './unit-summary.js';

/** What a unit is summarised with. */
export interface UnitContext {
  readonly plan: LimitPlan;
  readonly losses: readonly RankedLoss[];
  readonly countedTo: string | null;
  /** Its inspections with a date, in order. */
  readonly records: readonly UnitRecord[];
  readonly failures: FailureCourse;
  /** The days of its repairs, in order, up to the day counted to. */
  readonly repairs: readonly string[];
}

/** One unit in figures, as things stand on the day counted to. */
export function unitSummaryOf(history: UnitHistory, { plan, losses, countedTo, records, failures, repairs }: UnitContext): UnitSummary {
  const { unit, inspections, failed, latest, worst } = history;
  const now = records.findLast(({ leakShare }) => leakShare !== null) ?? null;
  const trends = losses.map((loss, index) => trendOf(records, repairs, loss, index));
  const leading = leadingOf(trends, now);
  const open_since = [...failures.open.values()].reduce<string | null>((first, on) => (first === null || on < first ? on : first), null);
  const last_repair_on = repairs.at(-1) ?? null;
  const around = last_repair_on === null ? null : aroundRepair(records, last_repair_on, ({ leakShare }) => leakShare);
  const next_due = latest && nextDue(latest.on, plan.interval);
  const overdue = daysFrom(next_due, countedTo);
  return {
    unit,
    vehicle_kind: latest?.vehicle_kind ?? null,
    site: latest?.site ?? null,
    inspections,
    failed,
    latest_on: latest?.on ?? null,
    latest_verdict: latest?.verdict ?? null,
    latest_released_loss: latest?.released_loss ?? null,
    latest_applied_loss: latest?.applied_loss ?? null,
    share_now: now?.leakShare ?? null,
    share_now_on: now?.on ?? null,
    worst_released_loss: worst.released_loss,
    worst_applied_loss: worst.applied_loss,
    worst_share: worst.share,
    trend_of: leading?.measure ?? null,
    trends: leading === null ? trends : [leading, ...trends.filter((trend) => trend !== leading)],
    open_checks: plan.checks.filter((_, check) => failures.open.has(check)).map(({ title }) => title),
    open_since,
    days_open: daysFrom(open_since, countedTo),
    last_repair_on,
    share_before_repair: around?.before ?? null,
    share_after_repair: around?.after ?? null,
    next_due,
    overdue_days: overdue !== null && overdue > 0 ? overdue : null,
    buildup_explained: buildupExplained(records, latestOf(trends.map(({ since_repair }) => since_repair))),
  };
}

function trendOf(records: readonly UnitRecord[], repairs: readonly string[], loss: RankedLoss, index: number): LossTrend {
  const since = lastEffectiveRepair(records, repairs, index);
  return lossTrend(lossSeries(records, index, since), loss, since);
}

/** The loss that uses the highest share of its limit now; where no share tells, the one that was measured last. */
function leadingOf(trends: readonly LossTrend[], now: UnitRecord | null): LossTrend | null {
  if (now !== null && now.leading !== null) return trends[now.leading]!;
  const measured = trends.filter(({ dates }) => dates.length > 0);
  return measured.reduce<LossTrend | null>((last, trend) => (last === null || trend.dates.at(-1)! > last.dates.at(-1)! ? trend : last), null);
}

/** The latest of some days; null where there is none. */
function latestOf(days: readonly (string | null)[]): string | null {
  return days.reduce<string | null>((latest, day) => (latest === null || (day !== null && day > latest) ? day : latest), null);
}

function daysFrom(start: string | null, end: string | null): number | null {
  return start === null || end === null ? null : ordinalDay(end) - ordinalDay(start);
}
