import { checkReadings } from '../limits/check-readings.js';
import type { CheckPlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { HALF_WIDTH, type Field } from '../readings/field.js';
import { cabSteps, type CabStep } from './cab-steps.js';

/** A check on paper: with the conditions of its test as their source prints them. */
export interface ChecklistCheck {
  readonly plan: CheckPlan;
  readonly conditions: readonly string[];
}

/** One step on paper: the boxes of its readings, and the checks that can be decided once they are filled. */
export interface ChecklistStep {
  readonly step: CabStep;
  readonly boxes: readonly Field[];
  readonly checks: readonly ChecklistCheck[];
}

/** What the paper of a limit set asks for. */
export interface Checklist {
  /** Which vehicle, when, who, and with which gauge. */
  readonly heading: readonly Field[];
  readonly steps: readonly ChecklistStep[];
  /** The readings that the sheet takes and no check needs. */
  readonly optional: readonly Field[];
  /** The checks for which the authority sets no number. */
  readonly withoutNumber: readonly CheckPlan[];
}

const HEADING_GROUPS: ReadonlySet<string> = new Set(['identity', 'gauge']);
const HEADING_NAMES: ReadonlySet<string> = new Set(['retest_of']);
/** The step of readings that no step of `workbooks/cab-steps.json` names. */
const OTHER = 'other';

/**
 * What the paper of a limit set asks for, made from the set itself: a box for each reading that its checks rest on, in the order of
 * the steps. A reading that no step names stands in the step of its group, else among the other readings.
 *
 * @param hasColumn whether the sheet Readings has a column for a field
 * @example checklistOf(plan, () => true).steps.map(({ step }) => step.step) // ['secure', 'build_up', 'released_loss', ...]
 */
export function checklistOf(plan: LimitPlan, hasColumn: (name: string) => boolean): Checklist {
  const { dictionary } = plan;
  const fields = dictionary.sheetOrder.map((position) => dictionary.fields[position]!).filter(({ name }) => !name.endsWith(HALF_WIDTH));
  const isHeading = ({ group, name }: Field): boolean => HEADING_GROUPS.has(group) || HEADING_NAMES.has(name);
  const decided = plan.checks.filter(({ comparator }) => comparator !== 'no_number');
  const readings = new Map(decided.map((check) => [check, checkReadings(plan, check)]));
  const needed = new Set([...readings.values()].flat());
  const boxes = fields.filter((field) => needed.has(field.name) && !isHeading(field));
  const { steps } = cabSteps();
  const stepOf = new Map(boxes.map((field) => [field.name, stepOfField(field, steps, plan)]));
  const checksOf = new Map<string, ChecklistCheck[]>();
  for (const check of decided) {
    const step = stepOfCheck(check, readings.get(check)!, stepOf, steps);
    checksOf.set(step, [...(checksOf.get(step) ?? []), { plan: check, conditions: conditionsOf(check, plan) }]);
  }
  const inStep = ({ step, readings: order }: CabStep): Field[] => {
    const place = ({ name }: Field): number => (order.includes(name) ? order.indexOf(name) : order.length);
    return boxes.filter(({ name }) => stepOf.get(name) === step).sort((a, b) => place(a) - place(b));
  };
  return {
    heading: fields.filter((field) => isHeading(field) && hasColumn(field.name)),
    steps: steps
      .map((step) => ({ step, boxes: inStep(step), checks: checksOf.get(step.step) ?? [] }))
      .filter(({ step, boxes: own, checks }) => step.always || own.length > 0 || checks.length > 0),
    optional: fields.filter((field) => hasColumn(field.name) && !needed.has(field.name) && !isHeading(field)),
    withoutNumber: plan.checks.filter(({ comparator }) => comparator === 'no_number'),
  };
}

function stepOfField({ name, group }: Field, steps: readonly CabStep[], { dictionary }: LimitPlan): string {
  const named = steps.find(({ readings }) => readings.includes(name));
  if (named) return named.step;
  const groupOf = new Map(dictionary.fields.map((field) => [field.name, field.group]));
  return steps.find(({ readings }) => readings.some((reading) => groupOf.get(reading) === group))?.step ?? OTHER;
}

/** The last step in which a reading of its measure is taken, else in which any of its readings is. */
function stepOfCheck(check: CheckPlan, readings: readonly string[], stepOf: ReadonlyMap<string, string>, steps: readonly CabStep[]): string {
  const last = (names: readonly string[]): string | undefined => steps.findLast(({ step }) => names.some((name) => stepOf.get(name) === step))?.step;
  return last(check.measure.readings) ?? last(readings) ?? OTHER;
}

/** The words of the source in which its conditions are printed, each once. */
function conditionsOf({ check }: CheckPlan, { conditions }: LimitPlan): string[] {
  const printed = conditions.filter(({ condition }) => condition.checks.includes(check)).map(({ condition }) => condition.source.printed.replace(/^\((.*)\)$/, '$1'));
  return [...new Set(printed)];
}
