import type { Evaluator } from '../expressions/evaluator.js';
import { toFunction } from '../expressions/to-function.js';
import { namesIn, type Tree, type Value } from '../expressions/tree.js';
import { FILLED, PSI_FACTOR } from '../limits/check-names.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { FACTS_USED } from '../limits/facts-used.js';
import { enteredName } from '../limits/say-template.js';
import { secondsName } from '../limits/working-columns.js';
import { fieldPosition } from '../readings/dictionary.js';
import type { Field } from '../readings/field.js';
import { HALF_WIDTH } from '../readings/field.js';
import type { Entry, Inspection } from '../readings/inspection.js';
import { PSI_PER, type PressureUnit } from '../readings/pressure-units.js';

const PRESSURE_UNITS = Object.keys(PSI_PER) as PressureUnit[];

/** The stage of the columns that nothing asks for by name. */
const LAST = 2;

/** A computed column as a step of the program. */
interface Step {
  readonly slot: number;
  readonly compute: Evaluator;
}

/** Where a reading that is no pressure goes. */
interface PlainReading {
  readonly position: number;
  readonly whenBlank: Entry;
  /** The slot that takes its seconds too; -1 for none. */
  readonly seconds: number;
}

/** The names that are asked for first, with all that they rest on, and those that are asked for next. */
export interface AskedFor {
  readonly first: Iterable<string>;
  readonly next: Iterable<string>;
}

/**
 * The computed columns of a limit set as functions over one array of slots that is filled anew for each row: the readings in
 * psi and seconds, the pressures as entered, then the columns, in three stages of which each is worked out when it is asked
 * for: what decides the row, what says so in words, and what only the sheet shows.
 */
export class RowProgram {
  private readonly slots: Value[] = [];
  private readonly slotOf = new Map<string, number>();
  private readonly constants = new Map<string, Value>([[FILLED, true]]);
  private readonly pressures: readonly { readonly position: number; readonly entered: number }[];
  private readonly plainReadings: readonly PlainReading[];
  private readonly stages: readonly (readonly Step[])[];
  private readonly firstColumn: number;
  private readonly unitAt: number;
  private readonly factorAt: number;
  private readonly notReadAt: number;
  private inspection: Inspection | null = null;
  /** How many stages are worked out for it. */
  private done = 0;

  /** @param numbers numbers that take the place of limits, conditions and facts, by name */
  constructor(
    private readonly plan: LimitPlan,
    numbers: ReadonlyMap<string, number | null>,
    asked: AskedFor,
  ) {
    const { fields } = plan.dictionary;
    for (const { name } of fields) this.newSlot(name);
    this.pressures = [...fields.entries()].flatMap(([position, { name, kind }]) => (kind === 'pressure' ? [{ position, entered: this.newSlot(enteredName(name)) }] : []));
    for (const { name, value } of [...FACTS_USED.map(({ fact, value }) => ({ name: `fact:${fact}`, value })), ...plan.cells]) this.constants.set(name, numbers.has(name) ? numbers.get(name)! : value);
    this.firstColumn = this.slots.length;
    for (const { id } of plan.columns) this.newSlot(id);
    this.plainReadings = [...fields.entries()].flatMap(([position, field]) => (field.kind === 'pressure' ? [] : [this.plainReading(position, field)]));
    this.unitAt = fieldPosition(plan.dictionary, 'pressure_unit');
    this.factorAt = this.slot(PSI_FACTOR);
    this.notReadAt = this.slot('working:not_read');
    const stageOf = stages(plan, asked);
    const steps: Step[][] = [[], [], []];
    for (const { id, tree } of plan.columns) {
      const compute = tree === null ? null : this.compile(tree);
      const constant = compute === null ? this.constants.get(id) : compute.constant;
      if (constant !== undefined) {
        this.constants.set(id, constant);
        this.slots[this.slot(id)] = constant;
      } else if (compute !== null) steps[stageOf.get(id) ?? LAST]!.push({ slot: this.slot(id), compute });
    }
    this.stages = steps;
  }

  /** Compiles a tree over the names of the program. */
  compile(tree: Tree): Evaluator {
    return toFunction(tree, (name) => this.slot(name), this.constants);
  }

  /** The slot of a name that has one; undefined for another. */
  find(name: string): number | undefined {
    return this.slotOf.get(name);
  }

  /** The slot of a name. */
  slot(name: string): number {
    const slot = this.slotOf.get(name);
    if (slot === undefined) throw new Error(`no slot for ${name}`);
    return slot;
  }

  /** The slots as they stand for an inspection once what is asked for first is worked out. They are overwritten by the next. */
  run(inspection: Inspection): readonly Value[] {
    return this.runTo(0, inspection);
  }

  /** Has the next run work out everything anew, should the inspection have changed since. */
  forget(): void {
    this.inspection = null;
  }

  /** The slots with what is asked for next, too. */
  runToWords(inspection: Inspection): readonly Value[] {
    return this.runTo(1, inspection);
  }

  /** The slots with every column. */
  runToEnd(inspection: Inspection): readonly Value[] {
    return this.runTo(LAST, inspection);
  }

  /** The value of every computed column, in the order of the plan's columns. */
  columns(inspection: Inspection): Value[] {
    return this.runToEnd(inspection).slice(this.firstColumn, this.firstColumn + this.plan.columns.length);
  }

  private runTo(last: number, inspection: Inspection): readonly Value[] {
    const { slots } = this;
    if (this.inspection !== inspection) {
      this.fill(inspection);
      this.inspection = inspection;
      this.done = 0;
    }
    for (; this.done <= last; this.done++) {
      const steps = this.stages[this.done]!;
      for (let index = 0; index < steps.length; index++) {
        const { slot, compute } = steps[index]!;
        slots[slot] = compute(slots);
      }
    }
    return slots;
  }

  private newSlot(name: string): number {
    const slot = this.slots.length;
    this.slots.push(null);
    this.slotOf.set(name, slot);
    return slot;
  }

  private plainReading(position: number, { name, kind, whenBlank }: Field): PlainReading {
    return { position, whenBlank: whenBlank ?? null, seconds: kind === 'time' ? (this.slotOf.get(secondsName(name)) ?? -1) : -1 };
  }

  private fill({ values, notRead }: Inspection): void {
    const { slots, pressures, plainReadings } = this;
    const factor = this.psiFactor(values[this.unitAt] ?? null, notRead);
    for (let index = 0; index < pressures.length; index++) {
      const { position, entered } = pressures[index]!;
      const entry = values[position] ?? null;
      const number = typeof entry === 'number' ? entry : null;
      slots[entered] = number;
      slots[position] = factor === null ? null : entry === 'never' ? 0 : number === null ? null : number * factor;
    }
    for (let index = 0; index < plainReadings.length; index++) {
      const { position, whenBlank, seconds } = plainReadings[index]!;
      const entry = values[position] ?? null;
      slots[position] = entry ?? whenBlank;
      if (seconds >= 0) slots[seconds] = entry;
    }
    slots[this.factorAt] = factor;
    slots[this.notReadAt] = notRead.length === 0 ? null : this.notReadWords(notRead);
  }

  /** psi in one unit of the row's pressures; null when the unit was not understood. */
  private psiFactor(unit: Entry, notRead: readonly string[]): number | null {
    if (unit === null) return notRead.includes('pressure_unit') ? null : 1;
    // A spreadsheet compares without regard to case, and so must whoever recomputes one.
    const name = PRESSURE_UNITS.find((one) => one === unit || one.toLowerCase() === String(unit).toLowerCase());
    if (name === undefined) return null;
    return name === 'psi' ? 1 : (this.constants.get(`fact:psi_per_${name}`) as number | null);
  }

  private notReadWords(notRead: readonly string[]): string | null {
    const names = this.plan.dictionary.fields.filter(({ name }) => notRead.includes(name) && !name.endsWith(HALF_WIDTH)).map(({ title }) => ` [${title}]`);
    return names.length === 0 ? null : names.join('');
  }
}

/** The stage of every column that is asked for, or that such a column reads. */
function stages({ columns }: LimitPlan, { first, next }: AskedFor): Map<string, number> {
  const stageOf = new Map<string, number>();
  for (const [stage, names] of [first, next].entries()) {
    const read = new Set(names);
    for (const { id, tree } of [...columns].reverse()) {
      if (!read.has(id)) continue;
      if (!stageOf.has(id)) stageOf.set(id, stage);
      if (tree !== null) namesIn(tree, read);
    }
  }
  return stageOf;
}
