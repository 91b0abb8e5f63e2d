import { namesIn, type Value } from '../expressions/tree.js';
import { DISAGREEMENT } from '../limits/border-trees.js';
import { checkName } from '../limits/check-names.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { OVERALL_REASON, OVERALL_VERDICT } from '../limits/overall-trees.js';
import type { Verdict } from '../limits/verdict.js';
import { fieldPosition } from '../readings/dictionary.js';
import type { Inspection } from '../readings/inspection.js';
import { CheckReporter, PARTS_REPORTED } from './check-reporter.js';
import { EvaluatedRow, type IdentityAt, type RowSource } from './evaluated-row.js';
import type { Borders, CheckResult, Evaluation } from './evaluation.js';
import { RowProgram, type AskedFor } from './row-program.js';

/** How to evaluate inspections. */
export interface RowEvaluatorOptions {
  /** Numbers that take the place of limits, conditions and facts, by name: `limit:released_loss:1`, `fact:psi_per_bar`. Null is a blank. */
  readonly numbers?: ReadonlyMap<string, number | null>;
}

/**
 * Evaluates inspections against one limit set. Of an evaluation the verdict is worked out at once and the rest when it is
 * asked for, anew if another inspection was evaluated since; see {@link EvaluatedRow}.
 *
 * @example new RowEvaluator(compileLimitSet(loadLimitSet())).evaluate(inspection).verdict // 'pass'
 */
export class RowEvaluator implements RowSource {
  private readonly program: RowProgram;
  private readonly reporters: readonly CheckReporter[];
  private readonly measureSlots: readonly { readonly name: string; readonly slot: number }[];
  private readonly identityAt: IdentityAt;
  private readonly verdictAt: number;
  private readonly reasonAt: number;
  private kept: { readonly of: Inspection; checks?: readonly CheckResult[]; computed?: readonly Value[]; measures?: Evaluation['measures'] } | null = null;

  constructor(
    readonly plan: LimitPlan,
    { numbers = new Map() }: RowEvaluatorOptions = {},
  ) {
    this.program = new RowProgram(plan, numbers, askedFor(plan));
    const setOf = new Map(plan.sets.flatMap(({ set, checks }) => checks.map(({ check }) => [check, set.id] as const)));
    this.reporters = plan.checks.map((check) => new CheckReporter(check, setOf.get(check.check)!, this.program));
    this.measureSlots = plan.measures.map(({ name, measure }) => ({ name: measure.measure, slot: this.program.slot(name) }));
    const at = (name: string): number => fieldPosition(plan.dictionary, name);
    this.identityAt = { inspection_id: at('inspection_id'), inspected_on: at('inspected_on'), unit: at('unit') };
    this.verdictAt = this.program.slot(OVERALL_VERDICT);
    this.reasonAt = this.program.slot(OVERALL_REASON);
  }

  /** Evaluates one inspection. */
  evaluate(inspection: Inspection): Evaluation {
    this.program.forget();
    this.kept = null;
    return new EvaluatedRow(this, inspection, this.program.run(inspection)[this.verdictAt] as Verdict, this.identityAt);
  }

  /** The evaluation of an inspection whose verdict another evaluator of the same plan has found. */
  judged(inspection: Inspection, verdict: Verdict): Evaluation {
    return new EvaluatedRow(this, inspection, verdict, this.identityAt);
  }

  /** The reason of an inspection's verdict. */
  reason(inspection: Inspection): string {
    return this.program.runToWords(inspection)[this.reasonAt] as string;
  }

  /** The measures of an inspection by name. */
  measures(inspection: Inspection): Evaluation['measures'] {
    const kept = this.keptOf(inspection);
    if (kept.measures) return kept.measures;
    const slots = this.program.run(inspection);
    const measures: Record<string, Value> = {};
    for (const { name, slot } of this.measureSlots) measures[name] = slots[slot]!;
    return (kept.measures = measures);
  }

  /** What came of the checks that apply to an inspection. */
  checks(inspection: Inspection): readonly CheckResult[] {
    const kept = this.keptOf(inspection);
    if (kept.checks) return kept.checks;
    const slots = this.program.runToWords(inspection);
    const checks: CheckResult[] = [];
    for (const reporter of this.reporters) {
      const result = reporter.report(slots);
      if (result !== null) checks.push(result);
    }
    return (kept.checks = checks);
  }

  /** What the sets say, where there are several. */
  borders(inspection: Inspection): Borders | undefined {
    const { sets } = this.plan;
    if (sets.length < 2) return undefined;
    const slots = this.program.runToWords(inspection);
    return {
      verdicts: Object.fromEntries(sets.map(({ set, column }) => [set.id, slots[this.program.slot(column)] as Verdict])),
      disagreement: slots[this.program.slot(DISAGREEMENT)] as string | null,
    };
  }

  /** The value of every computed column. */
  computed(inspection: Inspection): readonly Value[] {
    const kept = this.keptOf(inspection);
    return (kept.computed ??= this.program.columns(inspection));
  }

  private keptOf(inspection: Inspection): NonNullable<RowEvaluator['kept']> {
    if (this.kept?.of !== inspection) this.kept = { of: inspection };
    return this.kept!;
  }
}

/** First what decides an inspection, with the numbers of its checks; then the reasons. */
function askedFor({ checks, measures, sets }: LimitPlan): AskedFor {
  const conditions = checks.flatMap(({ alternatives }) => alternatives.flatMap(({ when }) => (when === null ? [] : [...namesIn(when)])));
  return {
    first: [
      OVERALL_VERDICT,
      ...sets.map(({ column }) => column),
      ...conditions,
      ...measures.map(({ name }) => name),
      ...checks.flatMap(({ check, measure }) => [measure.name, ...PARTS_REPORTED.map((part) => checkName(check, part))]),
    ],
    next: [OVERALL_REASON, DISAGREEMENT, ...checks.map(({ check }) => checkName(check, 'reason'))],
  };
}
