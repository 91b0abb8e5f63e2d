import type { LimitPlan } from '../limits/compile-limit-set.js';
import { quantile } from '../statistics/quantile.js';
import { ownText } from '../util/own-text.js';
import type { Evaluation } from './evaluation.js';
import { followFailures, type FailureCourse } from './failure-episodes.js';
import { FirstTimeCounter } from './first-time-counter.js';
import type { FleetFigures } from './fleet-figures.js';
import type { OpenWork } from './open-work.js';
import { openWorkOf } from './open-work-of.js';
import { ordinalDay } from './ordinal-day.js';
import type { FleetSummary } from './summary.js';
import { UnitHistory, type UnitHistoryState } from './unit-history.js';
import type { UnitRecord } from './unit-record.js';
import { UnitRecorder } from './unit-recorder.js';
import { UnitRecords, type UnitRecordsState } from './unit-records.js';
import type { UnitSummary } from './unit-summary.js';
import { unitSummaryOf } from './unit-summary-of.js';

/** What is told of the units of a fleet and of the follow-up of their failures. */
export type UnitsSummary = Pick<FleetSummary, 'units' | 'open_work'> & Pick<FleetFigures, 'open' | 'overdue' | 'first_time' | 'closed'>;

type Nameless = Pick<UnitRecord, 'on' | 'verdict' | 'isRetest'>;

/** What a summariser of units has gathered. */
export interface UnitsState {
  readonly units: readonly UnitHistoryState[];
  readonly records: UnitRecordsState;
  readonly nameless: readonly Nameless[];
}

/** The days that are counted: failures and first-time passes from `from` on, days open and overdue up to `countedTo`. */
export interface CountedDays {
  readonly from: string | null;
  readonly countedTo: string | null;
}

/**
 * Summarises a fleet by unit, one evaluation after the other, in any order of dates. Unit names are the same in small
 * and capital letters. Inspections without a date count in plain counts only; those without a unit count as first-time
 * inspections only.
 */
export class UnitsSummariser {
  private readonly recorder: UnitRecorder;
  private readonly units = new Map<string, UnitHistory>();
  private readonly records: UnitRecords;
  /** Of inspections without a unit that passed or failed. */
  private readonly nameless: Nameless[] = [];

  constructor(private readonly plan: LimitPlan) {
    this.recorder = new UnitRecorder(plan);
    this.records = new UnitRecords(this.recorder.losses.length);
  }

  add(evaluation: Evaluation): void {
    const { unit, inspected_on: on, verdict } = evaluation;
    if (unit !== null) this.historyOf(unit).add(evaluation);
    else if (on !== null && (verdict === 'pass' || verdict === 'fail')) this.nameless.push({ on, verdict, isRetest: this.recorder.field(evaluation, 'retest_of') !== null });
  }

  /** What was gathered so far, as plain data, for another summariser of the same plan to merge. */
  state(): UnitsState {
    return { units: [...this.units.values()].map((history) => history.state()), records: this.records.state(), nameless: this.nameless };
  }

  /**
   * Adds what another one gathered of later inspections.
   *
   * @param rowsBefore how far its rows move down
   */
  merge(other: UnitsState, rowsBefore: number): void {
    const records = UnitRecords.of(other.records);
    for (const history of other.units) this.historyOf(history.unit).merge(history, records, rowsBefore);
    for (const record of other.nameless) this.nameless.push(record);
  }

  /**
   * What was gathered.
   *
   * @param days `yyyy-mm-dd`, both inclusive; null is open
   */
  result({ from, countedTo }: CountedDays): UnitsSummary {
    const isCounted = (on: string): boolean => (from === null || on >= from) && (countedTo === null || on <= countedTo);
    const firstTime = new FirstTimeCounter();
    for (const record of this.nameless) if (isCounted(record.on)) firstTime.add(record, false);
    const daysToClose: number[] = [];
    const units: { readonly summary: UnitSummary; readonly work: OpenWork | null }[] = [];
    for (const history of this.units.values()) {
      const records = history.records();
      const failures = followFailures(records);
      records.forEach((record, index) => {
        if (isCounted(record.on)) firstTime.add(record, failures.openBefore[index]!);
      });
      for (const days of closedIn(failures, isCounted)) daysToClose.push(days);
      const repairs = history.repairs(countedTo);
      const summary = unitSummaryOf(history, { plan: this.plan, losses: this.recorder.losses, countedTo, records, failures, repairs });
      units.push({ summary, work: openWorkOf(history, summary, repairs) });
    }
    units.sort((a, b) => worseFirst(a.summary, b.summary));
    const open_work = units.flatMap(({ work }) => work ?? []).sort((a, b) => b.days_open - a.days_open);
    return {
      units: units.map(({ summary }) => summary),
      open_work,
      open: open_work.length,
      overdue: units.filter(({ summary }) => summary.overdue_days !== null).length,
      first_time: firstTime.result(),
      closed: { failures: daysToClose.length, days_median: quantile(daysToClose, 0.5), days_p90: quantile(daysToClose, 0.9) },
    };
  }

  private historyOf(unit: string): UnitHistory {
    const key = unit.toLowerCase();
    let history = this.units.get(key);
    if (!history) this.units.set(ownText(key), (history = new UnitHistory(ownText(unit), this.recorder, this.records)));
    return history;
  }
}

/** The days that each failure was open of those that were closed on a day that counts. */
function closedIn({ episodes }: FailureCourse, isCounted: (on: string) => boolean): number[] {
  return episodes.flatMap(({ openedOn, closedOn }) => (closedOn !== null && isCounted(closedOn) ? [ordinalDay(closedOn) - ordinalDay(openedOn)] : []));
}

function worseFirst(a: UnitSummary, b: UnitSummary): number {
  return (b.share_now ?? -1) - (a.share_now ?? -1) || (b.worst_share ?? -1) - (a.worst_share ?? -1) || (a.unit < b.unit ? -1 : 1);
}
