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

/** An inspection that failed a check which no later one has decided. */
export interface OpenFailure extends Placed {
  readonly isRetest: boolean;
  readonly text: FailureText;
}

/** What the history of a unit has gathered. */
export interface UnitHistoryState {
  readonly unit: string;
  readonly inspections: number;
  readonly failed: number;
  readonly latest: LatestInspection | null;
  readonly worst: Readonly<Record<'released_loss' | 'applied_loss' | 'share', number | null>>;
  readonly decidedAt: readonly (number | undefined)[];
  readonly texts: ReadonlyMap<number, FailureText>;
  /** The numbers of its records. */
  readonly kept: readonly number[];
  readonly repairedOn: readonly string[];
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
  /** By number of the check, the number of the record that decided it last. */
  private readonly decidedAt: (number | undefined)[] = [];
  /** Of those records, the text of each that failed a check. */
  private texts: ReadonlyMap<number, FailureText> = NO_TEXTS;
  private readonly kept: number[] = [];
  private repairedOn: readonly string[] = [];

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
    if (repaired !== null) this.addRepair(repaired);
    const { inspected_on: on, row, verdict } = evaluation;
    if (on === null) return;
    const record = recorder.record(evaluation, on);
    const index = this.recordsOfAll.add(record);
    this.kept.push(index);
    if (this.latest === null || inOrder(this.latest, record) < 0) {
      this.latest = { on, row, verdict, ...recorder.kindAndSite(evaluation), released_loss, applied_loss };
    }
    this.decide(record, index, () => recorder.failureText(evaluation));
  }

  /** What was gathered so far, as plain data, for another history of the same unit to merge; it is not copied. */
  state(): UnitHistoryState {
    const { unit, inspections, failed, latest, worst, decidedAt, texts, kept, repairedOn } = this;
    return { unit, inspections, failed, latest, worst, decidedAt, texts, kept, repairedOn };
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
    for (const on of other.repairedOn) this.addRepair(on);
    for (const index of other.kept) {
      const record = moved(records.at(index));
      const here = this.recordsOfAll.add(record);
      this.kept.push(here);
      if (other.decidedAt.includes(index)) this.decide(record, here, () => other.texts.get(index)!, (check) => other.decidedAt[check] === index);
    }
    if (other.latest !== null && (this.latest === null || inOrder(this.latest, moved(other.latest)) < 0)) this.latest = moved(other.latest);
  }

  /** The inspections with a date, in order; put together anew each time. */
  records(): readonly UnitRecord[] {
    return this.kept.map((index) => this.recordsOfAll.at(index)).sort(inOrder);
  }

  /** The days of its repairs, in order, up to a day; none where no day is known. */
  repairs(upTo: string | null): string[] {
    return upTo === null ? [] : this.repairedOn.filter((on) => on <= upTo).sort();
  }

  /** The inspections whose failure is still open. */
  openFailures(): OpenFailure[] {
    return [...this.texts].map(([index, text]) => {
      const { on, row, isRetest } = this.recordsOfAll.at(index);
      return { on, row, isRetest, text };
    });
  }

  private addRepair(on: string): void {
    if (!this.repairedOn.includes(on)) this.repairedOn = [...this.repairedOn, on];
  }

  /** Takes note of what a record decides, unless a later one has decided it. */
  private decide(record: UnitRecord, index: number, textOf: () => FailureText, isSought: (check: number) => boolean = () => true): void {
    let failsOpen = false;
    for (let check = 0; check < record.decided.length; check++) {
      if (record.decided[check] === '-' || !isSought(check)) continue;
      const known = this.decidedAt[check];
      if (known !== undefined && inOrder(this.recordsOfAll.placeOf(known), record) > 0) continue;
      this.decidedAt[check] = index;
      failsOpen ||= record.decided[check] === 'f';
    }
    if (!failsOpen && this.texts.size === 0) return;
    const texts = failsOpen ? [...this.texts, [index, textOf()] as const] : [...this.texts];
    this.texts = new Map(texts.filter(([at]) => this.isOpen(at)));
  }

  /** Whether the record of a number failed a check that it was the last to decide. */
  private isOpen(index: number): boolean {
    const { decided } = this.recordsOfAll.at(index);
    return this.decidedAt.some((at, check) => at === index && decided[check] === 'f');
  }
}

/** Shared by the many units without an open failure. */
const NO_TEXTS: ReadonlyMap<number, FailureText> = new Map();

function loss({ measures }: Evaluation, measure: string): number | null {
  const value = measures[measure];
  return typeof value === 'number' ? value : null;
}

function higher(a: number | null, b: number | null): number | null {
  if (a === null) return b;
  return b === null ? a : Math.max(a, b);
}
