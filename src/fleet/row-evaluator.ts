import { toFunction } from '../expressions/to-function.js';
import type { Evaluator } from '../expressions/operators.js';
import type { Value } from '../expressions/tree.js';
import { DISAGREEMENT } from '../limits/border-trees.js';
import { checkName } from '../limits/check-names.js';
import type { CheckPlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { FACTS_USED } from '../limits/facts-used.js';
import { OVERALL_REASON, OVERALL_VERDICT } from '../limits/overall-trees.js';
import { enteredName } from '../limits/say-template.js';
import type { Verdict } from '../limits/verdict.js';
import { secondsName } from '../limits/working-columns.js';
import { fieldPosition } from '../readings/dictionary.js';
import { HALF_WIDTH } from '../readings/field.js';
import type { Entry, Inspection } from '../readings/inspection.js';
import { PSI_PER, type PressureUnit } from '../readings/pressure-units.js';
import type { Borders, CheckResult, Evaluation } from './evaluation.js';

const PRESSURE_UNITS = Object.keys(PSI_PER) as PressureUnit[];

/** How to evaluate inspections. */
export interface RowEvaluatorOptions {
  /** Numbers that take the place of limits, conditions and facts, by name: `limit:released_loss:1`, `fact:psi_per_bar`. Null is a blank. */
  readonly numbers?: ReadonlyMap<string, number | null>;
}

/**
 * Evaluates inspections against one limit set. The compiled functions work on one array of slots that is filled anew
 * for each row: the readings in psi and seconds, the pressures as entered, the limits, then the computed columns.
 *
 * @example new RowEvaluator(compileLimitSet(loadLimitSet())).evaluate(inspection).verdict // 'pass'
 */
export class RowEvaluator {
  private readonly slots: Value[] = [];
  private readonly slotOf = new Map<string, number>();
  private readonly steps: { readonly slot: number; readonly compute: Evaluator }[] = [];
  private readonly whens: readonly (readonly Evaluator[])[];
  private readonly pressures: ReadonlyMap<number, { readonly entered: number; readonly converted: number }>;
  private readonly unitAt: number;
  private readonly setOf: ReadonlyMap<string, string>;
  private readonly measureSlots: readonly { readonly name: string; readonly slot: number }[];

  constructor(
    readonly plan: LimitPlan,
    { numbers = new Map() }: RowEvaluatorOptions = {},
  ) {
    const { dictionary } = plan;
    for (const field of dictionary.fields) this.newSlot(field.name);
    const pressures = new Map<number, { entered: number; converted: number }>();
    for (const [position, field] of dictionary.fields.entries()) {
      if (field.kind === 'pressure') pressures.set(position, { entered: this.newSlot(enteredName(field.name)), converted: position });
    }
    this.pressures = pressures;
    this.unitAt = fieldPosition(dictionary, 'pressure_unit');
    const cells = [...FACTS_USED.map(({ fact, value }) => ({ name: `fact:${fact}`, value })), ...plan.cells];
    for (const { name, value } of cells) this.slots[this.newSlot(name)] = numbers.has(name) ? numbers.get(name)! : value;
    for (const { id } of plan.columns) this.newSlot(id);
    const compile = (tree: Parameters<typeof toFunction>[0]): Evaluator => toFunction(tree, (name) => this.slot(name));
    for (const { id, tree } of plan.columns) if (tree !== null) this.steps.push({ slot: this.slot(id), compute: compile(tree) });
    this.whens = plan.checks.map((check) => check.alternatives.map(({ when }) => (when === null ? () => true : compile(when))));
    this.setOf = new Map(plan.sets.flatMap(({ set, checks }) => checks.map(({ check }) => [check, set.id] as const)));
    this.measureSlots = plan.measures.map(({ name, measure }) => ({ name: measure.measure, slot: this.slot(name) }));
  }

  /** Evaluates one inspection. */
  evaluate(inspection: Inspection): Evaluation {
    this.fill(inspection);
    for (const { slot, compute } of this.steps) this.slots[slot] = compute(this.slots);
    const text = (name: string): string | null => inspection.values[fieldPosition(this.plan.dictionary, name)] as string | null;
    const measures: Record<string, Value> = {};
    for (const { name, slot } of this.measureSlots) measures[name] = this.slots[slot]!;
    return {
      row: inspection.row,
      inspection_id: text('inspection_id'),
      inspected_on: text('inspected_on'),
      unit: text('unit'),
      verdict: this.value(OVERALL_VERDICT) as Verdict,
      reason: this.value(OVERALL_REASON) as string,
      measures,
      checks: this.plan.checks.flatMap((check, index) => this.checkResult(check, this.whens[index]!)),
      ...(this.plan.sets.length > 1 ? { borders: this.borders() } : {}),
      inspection,
      computed: this.plan.columns.map(({ id }) => this.value(id)),
    };
  }

  private borders(): Borders {
    return {
      verdicts: Object.fromEntries(this.plan.sets.map(({ set, column }) => [set.id, this.value(column) as Verdict])),
      disagreement: this.value(DISAGREEMENT) as string | null,
    };
  }

  private newSlot(name: string): number {
    const slot = this.slots.length;
    this.slots.push(null);
    this.slotOf.set(name, slot);
    return slot;
  }

  private slot(name: string): number {
    const slot = this.slotOf.get(name);
    if (slot === undefined) throw new Error(`no slot for ${name}`);
    return slot;
  }

  private value(name: string): Value {
    return this.slots[this.slot(name)]!;
  }

  private fill({ values, notRead }: Inspection): void {
    const { slots } = this;
    const { fields } = this.plan.dictionary;
    const factor = this.psiFactor(values[this.unitAt] ?? null, notRead);
    for (let position = 0; position < fields.length; position++) {
      const entry = values[position] ?? null;
      const pressure = this.pressures.get(position);
      if (pressure) {
        const entered = typeof entry === 'number' ? entry : null;
        slots[pressure.entered] = entered;
        slots[position] = factor === null ? null : entry === 'never' ? 0 : entered === null ? null : entered * factor;
      } else {
        slots[position] = entry ?? fields[position]!.whenBlank ?? null;
        const seconds = fields[position]!.kind === 'time' ? this.slotOf.get(secondsName(fields[position]!.name)) : undefined;
        if (seconds !== undefined) slots[seconds] = entry;
      }
    }
    slots[this.slot('working:filled')] = true;
    slots[this.slot('working:psi_factor')] = factor;
    slots[this.slot('working:not_read')] = notReadWords(fields, notRead);
  }

  /** psi in one unit of the row's pressures; null when the unit was not understood. */
  private psiFactor(unit: Entry, notRead: readonly string[]): number | null {
    if (unit === null) return notRead.includes('pressure_unit') ? null : 1;
    // A spreadsheet compares without regard to case, and so must whoever recomputes one.
    const name = PRESSURE_UNITS.find((one) => one.toLowerCase() === String(unit).toLowerCase());
    if (name === undefined) return null;
    return name === 'psi' ? 1 : (this.value(`fact:psi_per_${name}`) as number | null);
  }

  private checkResult(plan: CheckPlan, whens: readonly Evaluator[]): CheckResult[] {
    const part = (which: Parameters<typeof checkName>[1]): Value => {
      const slot = this.slotOf.get(checkName(plan.check, which));
      return slot === undefined ? null : this.slots[slot]!;
    };
    const verdict = part('verdict') as Verdict | null;
    if (verdict === null) return [];
    const applied = plan.alternatives[Math.max(0, whens.findIndex((when) => when(this.slots) === true))]!;
    const { measure } = plan.measure;
    return [
      {
        limit_set: this.setOf.get(plan.check)!,
        check: plan.check,
        measure: measure.measure,
        value: this.value(plan.measure.name),
        unit: measure.unit,
        comparator: plan.comparator,
        limit: this.limit(plan, part),
        verdict,
        share_of_limit: part('share') as number | null,
        chance_within_limit: part('chance') as number | null,
        reason: part('reason') as string,
        citation: applied.check.source.citation,
        status: applied.check.source.status,
        severity: applied.check.severity ?? null,
      },
    ];
  }

  private limit(plan: CheckPlan, part: (which: 'limit' | 'limit_high') => Value): CheckResult['limit'] {
    if (plan.comparator === 'must_be') return plan.alternatives[0]!.check.must_be!;
    const low = part('limit') as number | null;
    const high = part('limit_high') as number | null;
    return plan.comparator === 'between' ? (low === null || high === null ? null : [low, high]) : low;
  }
}

function notReadWords(fields: LimitPlan['dictionary']['fields'], notRead: readonly string[]): string | null {
  const names = fields.filter(({ name }) => notRead.includes(name) && !name.endsWith(HALF_WIDTH)).map(({ title }) => ` [${title}]`);
  return names.length === 0 ? null : names.join('');
}
