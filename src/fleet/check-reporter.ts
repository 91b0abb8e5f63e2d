import type { Evaluator } from '../expressions/evaluator.js';
import type { Value } from '../expressions/tree.js';
import { checkName, type CheckPart } from '../limits/check-names.js';
import type { CheckPlan } from '../limits/compile-checks.js';
import type { Verdict } from '../limits/verdict.js';
import type { CheckResult } from './evaluation.js';
import type { RowProgram } from './row-program.js';

/** What a result holds of a check's columns, beside the reason. */
export const PARTS_REPORTED = ['verdict', 'share', 'chance', 'limit', 'limit_high'] as const satisfies readonly CheckPart[];

/** Makes the result of one check from the slots of a row. */
export class CheckReporter {
  private readonly whens: readonly Evaluator[];
  private readonly at: Readonly<Record<'value' | 'reason' | (typeof PARTS_REPORTED)[number], number>>;

  /** @param limitSet the identifier of the set that the check is of */
  constructor(
    private readonly plan: CheckPlan,
    private readonly limitSet: string,
    program: RowProgram,
  ) {
    const part = (which: CheckPart): number => program.find(checkName(plan.check, which)) ?? -1;
    this.whens = plan.alternatives.map(({ when }) => (when === null ? () => true : program.compile(when)));
    this.at = { value: program.slot(plan.measure.name), verdict: part('verdict'), share: part('share'), chance: part('chance'), limit: part('limit'), limit_high: part('limit_high'), reason: part('reason') };
  }

  /** Null where the check does not apply. */
  report(slots: readonly Value[]): CheckResult | null {
    const { plan, at } = this;
    const verdict = slots[at.verdict] as Verdict | null | undefined;
    if (verdict == null) return null;
    const { source, severity } = this.applied(slots).check;
    const { measure } = plan.measure;
    return {
      limit_set: this.limitSet,
      check: plan.check,
      measure: measure.measure,
      value: slots[at.value]!,
      unit: measure.unit,
      comparator: plan.comparator,
      limit: this.limit(slots),
      verdict,
      share_of_limit: (slots[at.share] ?? null) as number | null,
      chance_within_limit: (slots[at.chance] ?? null) as number | null,
      reason: slots[at.reason] as string,
      citation: source.citation,
      status: source.status,
      severity: severity ?? null,
    };
  }

  private applied(slots: readonly Value[]): CheckPlan['alternatives'][number] {
    const { alternatives } = this.plan;
    return alternatives[Math.max(0, this.whens.findIndex((when) => when(slots) === true))]!;
  }

  private limit(slots: readonly Value[]): CheckResult['limit'] {
    const { plan, at } = this;
    if (plan.comparator === 'must_be') return plan.alternatives[0]!.check.must_be!;
    const low = (slots[at.limit] ?? null) as number | null;
    const high = (slots[at.limit_high] ?? null) as number | null;
    return plan.comparator === 'between' ? (low === null || high === null ? null : [low, high]) : low;
  }
}
