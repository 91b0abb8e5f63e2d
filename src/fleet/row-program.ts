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

/**
 * The computed columns of a limit set as functions over one array of slots that is filled anew for each row: the readings in
 * psi and seconds, the pressures as entered, then the columns. Those that only put results into words come last, and are
 * worked out when they are asked for.
 */
export class RowProgram {
  private readonly slots: Value[] = [];
  private readonly slotOf = new Map<string, number>();
  private readonly constants = new Map<string, Value>([[FILLED, true]]);
  private readonly pressures: readonly { readonly position: number; readonly entered: number }[];
  private readonly plainReadings: readonly PlainReading[];
  private readonly steps: readonly Step[];
  private readonly words: readonly Step[];
  private readonly firstColumn: number;
  private readonly unitAt: number;
  private readonly factorAt: number;
  private readonly notReadAt: number;
  private inspection: Inspection | null = null;
  private worded = false;

  /** @param numbers numbers that take the place of limits, conditions and facts, by name */
  constructor(
    private readonly plan: LimitPlan,
    numbers: ReadonlyMap<string, number | null>,
    /** Names that are read by others than the columns, and so are worked out at once. */
    readBeside: Iterable<string>,
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
    const late = wordsOnly(plan, new Set(readBeside));
    const steps: Step[] = [];
    const words: Step[] = [];
    for (const { id, tree } of plan.columns) {
      const compute = tree === null ? null : this.compile(tree);
      const constant = compute === null ? this.constants.get(id) : compute.constant;
      if (constant !== undefined) {
        this.constants.set(id, constant);
        this.slots[this.slot(id)] = constant;
      } else if (compute !== null) (late.has(id) ? words : steps).push({ slot: this.slot(id), compute });
    }
    this.steps = steps;
    this.words = words;
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

  /** The slots as they stand for an inspection, without what is words only. They are overwritten by the next. */
  run(inspection: Inspection): readonly Value[] {
    const { slots, steps } = this;
    if (this.inspection === inspection) return slots;
    this.fill(inspection);
    for (let index = 0; index < steps.length; index++) {
      const { slot, compute } = steps[index]!;
      slots[slot] = compute(slots);
    }
    this.inspection = inspection;
    this.worded = false;
    return slots;
  }

  /** Has the next run work out everything anew, should the inspection have changed since. */
  forget(): void {
    this.inspection = null;
  }

  /** The slots with the words too. */
  runToWords(inspection: Inspection): readonly Value[] {
    const { words } = this;
    const slots = this.run(inspection) as Value[];
    if (this.worded) return slots;
    for (let index = 0; index < words.length; index++) {
      const { slot, compute } = words[index]!;
      slots[slot] = compute(slots);
    }
    this.worded = true;
    return slots;
  }

  /** The value of every computed column, in the order of the plan's columns. */
  columns(inspection: Inspection): Value[] {
    return this.runToWords(inspection).slice(this.firstColumn, this.firstColumn + this.plan.columns.length);
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

/** The columns that put results into words, and that none but such columns read. */
function wordsOnly({ columns }: LimitPlan, readBeside: ReadonlySet<string>): Set<string> {
  const late = new Set<string>();
  const read = new Set(readBeside);
  for (const { id, type, format, tree } of [...columns].reverse()) {
    if (type === 'text' && format !== 'verdict' && !read.has(id)) late.add(id);
    else if (tree !== null) namesIn(tree, read);
  }
  return late;
}
