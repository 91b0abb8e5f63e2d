import { COMPARED_DECIMALS } from '../expressions/operators.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { LEAK_SHARE } from '../limits/overall-trees.js';
import { uncertaintyName } from '../limits/uncertainty-tree.js';
import { WHERE_TO_LOOK } from '../limits/where-to-look-tree.js';
import { fieldPosition } from '../readings/dictionary.js';
import { ownText } from '../util/own-text.js';
import { roundHalfAway } from '../util/round-half-away.js';
import { BuildupRecorder } from './buildup-recorder.js';
import type { CheckResult, Evaluation } from './evaluation.js';
import { rankedLosses, type RankedLoss } from './ranked-losses.js';
import type { LossReading, UnitRecord } from './unit-record.js';

/** Decimals kept of a loss, so that float noise makes no two equal losses differ. */
const KEPT_DECIMALS = 9;

/** What is shown of an inspection while a failure that it found is open. */
export interface FailureText {
  readonly inspection_id: string | null;
  readonly reason: string;
  readonly leak_place: string | null;
  readonly where_to_look: string | null;
}

type FieldUsed = 'vehicle_kind' | 'site' | 'leak_place' | 'repaired_on' | 'retest_of';

/** Picks from evaluations what the follow-up of units needs. */
export class UnitRecorder {
  readonly losses: readonly RankedLoss[];
  private readonly buildups: BuildupRecorder;
  private readonly checkAt: ReadonlyMap<string, number>;
  private readonly columns: { readonly leakShare: number; readonly whereToLook: number; readonly uncertainties: readonly number[] };
  /** One copy of each pattern of verdicts. */
  private readonly patterns = new Map<string, string>();

  constructor(private readonly plan: LimitPlan) {
    const column = (name: string): number => plan.columns.findIndex(({ id }) => id === name);
    this.losses = rankedLosses(plan);
    this.buildups = new BuildupRecorder(plan);
    this.checkAt = new Map(plan.checks.map(({ check }, index) => [check, index]));
    this.columns = { leakShare: column(LEAK_SHARE), whereToLook: column(WHERE_TO_LOOK), uncertainties: this.losses.map(({ measure }) => column(uncertaintyName(measure))) };
  }

  /** The text of a reading's cell; null where it is blank. */
  field({ inspection }: Evaluation, name: FieldUsed): string | null {
    return text(inspection.values[fieldPosition(this.plan.dictionary, name)]);
  }

  leakShare({ computed }: Evaluation): number | null {
    return number(computed[this.columns.leakShare]);
  }

  /** The record of an inspection of a day. */
  record(evaluation: Evaluation, on: string): UnitRecord {
    const results = this.losses.map(({ check }) => evaluation.checks.find((result) => result.check === check) ?? null);
    const decided = this.decided(evaluation.checks);
    const losses = this.losses.map((loss, index) => this.reading(evaluation, loss, index, results[index]!));
    return {
      on,
      row: evaluation.row,
      verdict: evaluation.verdict,
      decided,
      isRetest: this.field(evaluation, 'retest_of') !== null,
      leakShare: this.leakShare(evaluation),
      leading: leading(results),
      losses,
      buildup: this.buildups.record(evaluation, { on, decided, losses }),
    };
  }

  /** Where a unit was inspected and what it is, to be kept. */
  kindAndSite(evaluation: Evaluation): { readonly vehicle_kind: string | null; readonly site: string | null } {
    return { vehicle_kind: owned(this.field(evaluation, 'vehicle_kind')), site: owned(this.field(evaluation, 'site')) };
  }

  failureText(evaluation: Evaluation): FailureText {
    return { inspection_id: owned(evaluation.inspection_id), reason: evaluation.reason, leak_place: owned(this.field(evaluation, 'leak_place')), where_to_look: text(evaluation.computed[this.columns.whereToLook]) };
  }

  private decided(results: readonly CheckResult[]): string {
    const letters = Array.from({ length: this.plan.checks.length }, () => '-');
    for (const { check, verdict } of results) {
      if (verdict === 'fail' || verdict === 'pass') letters[this.checkAt.get(check)!] = verdict === 'fail' ? 'f' : 'p';
    }
    const pattern = letters.join('');
    const kept = this.patterns.get(pattern);
    if (kept === undefined) this.patterns.set(pattern, pattern);
    return kept ?? pattern;
  }

  private reading({ measures, computed }: Evaluation, loss: RankedLoss, index: number, result: CheckResult | null): LossReading | null {
    const value = measures[loss.measure];
    if (typeof value !== 'number' || (loss.check !== null && !isDecided(result))) return null;
    const limit = loss.hasUpperLimit && typeof result?.limit === 'number' ? result.limit : null;
    return { value: roundHalfAway(value, KEPT_DECIMALS), limit, uncertainty: number(computed[this.columns.uncertainties[index]!]) };
  }
}

function isDecided(result: CheckResult | null): boolean {
  return result?.verdict === 'pass' || result?.verdict === 'fail';
}

function leading(results: readonly (CheckResult | null)[]): number | null {
  let highest: number | null = null;
  let at: number | null = null;
  for (const [index, result] of results.entries()) {
    const share = result?.share_of_limit == null ? null : roundHalfAway(result.share_of_limit, COMPARED_DECIMALS);
    if (share === null || (highest !== null && share <= highest)) continue;
    [highest, at] = [share, index];
  }
  return at;
}

/** A copy that is kept without the page that it was cut from. */
function owned(value: string | null): string | null {
  return value === null ? null : ownText(value);
}

function number(value: unknown): number | null {
  return typeof value === 'number' ? value : null;
}

function text(value: unknown): string | null {
  return typeof value === 'string' && value !== '' ? value : null;
}
