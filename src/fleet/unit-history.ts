import type { Verdict } from '../limits/verdict.js';
import type { Evaluation } from './evaluation.js';
import { inOrder, type Placed, type UnitRecord } from './unit-record.js';
import type { FailureText, UnitRecorder } from './unit-recorder.js';
import { UnitRecords } from './unit-records.js';

/** The latest inspection of a unit. */
export interface LatestInspection extends Placed {
  readonly verdict: Verdict;
  readonly vehicle_kind: string | null;
  readonly site: string | null;
  readonly released_loss: number | null;
  readonly applied_loss: number | null;
}

/** The latest inspection that decided a check. It failed it where there is a text. */
export interface Decision extends Placed {
  readonly isRetest: boolean;
  readonly text: FailureText | null;
}

/** What the history of a unit has gathered. */
export interface UnitHistoryState {
  readonly unit: string;
  readonly inspections: number;
  readonly failed: number;
  readonly latest: LatestInspection | null;
  readonly worst: Readonly<Record<'released_loss' | 'applied_loss' | 'share', number | null>>;
  readonly decisions: ReadonlyMap<number, Decision>;
  /** The numbers of its records. */
  readonly kept: readonly number[];
  readonly repairedOn: ReadonlySet<string>;
}

/**
 * Gathers the inspections of one unit, in any order of dates: a small record of each, and the text of those only whose
 * failure may still be open.
 */
export class UnitHistory {
  inspections = 0;
  failed = 0;
  latest: LatestInspection | null = null;
  readonly worst: { released_loss: number | null; applied_loss: number | null; share: number | null } = { released_loss: null, applied_loss: null, share: null };
  /** By number of the check. */
  readonly decisions = new Map<number, Decision>();
  private readonly kept: number[] = [];
  private readonly repairedOn = new Set<string>();

  /**
   * @param unit its name as first written
   * @param recordsOfAll where its records are kept, those of other units among them
   */
  constructor(
    readonly unit: string,
    private readonly recorder: UnitRecorder,
    private readonly recordsOfAll: UnitRecords = new UnitRecords(recorder.losses.length),
  ) {}

  add(evaluation: Evaluation): void {
    const { recorder, worst } = this;
    this.inspections += 1;
    if (evaluation.verdict === 'fail') this.failed += 1;
    const [released_loss, applied_loss] = [loss(evaluation, 'released_loss'), loss(evaluation, 'applied_loss')];
    worst.released_loss = higher(worst.released_loss, released_loss);
    worst.applied_loss = higher(worst.applied_loss, applied_loss);
    worst.share = higher(worst.share, recorder.leakShare(evaluation));
    const repaired = recorder.field(evaluation, 'repaired_on');
    if (repaired !== null) this.repairedOn.add(repaired);
    const { inspected_on: on, row, verdict } = evaluation;
    if (on === null) return;
    const record = recorder.record(evaluation, on);
    this.kept.push(this.recordsOfAll.add(record));
    if (this.latest === null || inOrder(this.latest, record) < 0) {
      this.latest = { on, row, verdict, vehicle_kind: recorder.field(evaluation, 'vehicle_kind'), site: recorder.field(evaluation, 'site'), released_loss, applied_loss };
    }
    this.decide(record, evaluation);
  }

  /** What was gathered so far, as plain data, for another history of the same unit to merge; it is not copied. */
  state(): UnitHistoryState {
    const { unit, inspections, failed, latest, worst, decisions, kept, repairedOn } = this;
    return { unit, inspections, failed, latest, worst, decisions, kept, repairedOn };
  }

  /**
   * Adds what another one gathered.
   *
   * @param records where the records of the other one are kept
   * @param rowsBefore how far its rows move down, so that they come after those gathered here
   */
  merge(other: UnitHistoryState, records: UnitRecords, rowsBefore: number): void {
    const moved = <T extends Placed>(placed: T): T => ({ ...placed, row: placed.row + rowsBefore });
    this.inspections += other.inspections;
    this.failed += other.failed;
    for (const key of ['released_loss', 'applied_loss', 'share'] as const) this.worst[key] = higher(this.worst[key], other.worst[key]);
    for (const on of other.repairedOn) this.repairedOn.add(on);
    for (const index of other.kept) this.kept.push(this.recordsOfAll.add(moved(records.at(index))));
    if (other.latest !== null && (this.latest === null || inOrder(this.latest, moved(other.latest)) < 0)) this.latest = moved(other.latest);
    for (const [check, decision] of other.decisions) {
      const known = this.decisions.get(check);
      if (!known || inOrder(known, moved(decision)) <= 0) this.decisions.set(check, moved(decision));
    }
  }

  /** The inspections with a date, in order; put together anew each time. */
  records(): readonly UnitRecord[] {
    return this.kept.map((index) => this.recordsOfAll.at(index)).sort(inOrder);
  }

  /** The days of its repairs, in order, up to a day; none where no day is known. */
  repairs(upTo: string | null): string[] {
    return upTo === null ? [] : [...this.repairedOn].filter((on) => on <= upTo).sort();
  }

  private decide(record: UnitRecord, evaluation: Evaluation): void {
    const { on, row, isRetest, decided } = record;
    let text: FailureText | null = null;
    for (let check = 0; check < decided.length; check++) {
      if (decided[check] === '-') continue;
      const known = this.decisions.get(check);
      if (known && inOrder(known, record) > 0) continue;
      const failed = decided[check] === 'f';
      if (failed) text ??= this.recorder.failureText(evaluation);
      this.decisions.set(check, { on, row, isRetest, text: failed ? text : null });
    }
  }
}

function loss({ measures }: Evaluation, measure: string): number | null {
  const value = measures[measure];
  return typeof value === 'number' ? value : null;
}

function higher(a: number | null, b: number | null): number | null {
  if (a === null) return b;
  return b === null ? a : Math.max(a, b);
}
