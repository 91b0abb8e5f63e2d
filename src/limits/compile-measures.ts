import { call } from '../expressions/call.js';
import { constant, isLargerThan, nameOf, namesIn, type Tree, type ValueType } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { LIMIT_UNITS } from './limit-units.js';
import type { Measure } from './measure.js';
import { measureName, NameScope } from './name-scope.js';
import { numberText, sayTemplate } from './say-template.js';
import { uncertaintyName, uncertaintyTree } from './uncertainty-tree.js';

/** A condition under which readings cannot decide, and the words for it, as trees. */
export interface RecheckPlan {
  readonly when: Tree;
  readonly say: Tree;
}

/** A measure of one brake circuit. */
export interface CircuitMeasure {
  readonly circuit: string;
  readonly measure: string;
  /** Its name among the names of the row program, and its type. */
  readonly name: string;
  readonly type: ValueType;
}

/** A measure, compiled to trees. */
export interface MeasurePlan {
  readonly measure: Measure;
  /** Its name among the names of the row program. */
  readonly name: string;
  readonly type: ValueType;
  readonly tree: Tree;
  /** Its standard uncertainty; null when the gauge does not enter, or it cannot be derived. */
  readonly uncertainty: Tree | null;
  /** The clause for the reason. */
  readonly says: Tree;
  readonly rechecks: readonly RecheckPlan[];
  /** The readings that it is computed from. */
  readonly readings: readonly string[];
  readonly heldFor: string | null;
  /** What is measured on one circuit: itself, or those of its parts that are of a circuit. Empty where none is. */
  readonly circuits: readonly CircuitMeasure[];
}

/** What the compilation of measures needs to know. */
export interface MeasureContext {
  readonly dictionary: Dictionary;
  readonly scope: NameScope;
  readonly halfWidths: ReadonlySet<string>;
  /** The unit in which pressures are shown; psi when left out. */
  readonly shown?: PressureUnit;
}

/** Units that only measures for diagnosis are kept in. */
const DIAGNOSIS_UNITS: ReadonlySet<string> = new Set(['L/min', 'mm', 'min']);

/** Most nodes of the clause that is said of a measure: the worst of several says the clauses of all. */
const MOST_SAID = 2000;

/**
 * Compiles measures in order; each may name readings and the measures above it.
 *
 * @throws TreadlebookError `limit_set_invalid`
 */
export function compileMeasures(measures: readonly Measure[], context: MeasureContext): MeasurePlan[] {
  const plans = new Map<string, MeasurePlan>();
  const measured = new Map<string, string>();
  for (const measure of measures) {
    const where = `measure ${measure.measure}`;
    if (plans.has(measure.measure)) throw invalid(where, 'a measure of this name exists already', 'give it a name of its own');
    const unit = LIMIT_UNITS.get(measure.unit);
    if (!(unit?.measureUnit === measure.unit || (measure.diagnosis && DIAGNOSIS_UNITS.has(measure.unit)))) throw invalid(where, `the unit ${JSON.stringify(measure.unit)} is not one that measures are kept in`, 'use psi, psi/min, s, psi/s, share, or an empty text');
    const parts = (measure.highest_of ?? measure.lowest_of)?.map((name) => partOf(name, measure.unit, plans, where));
    const plan = parts ? compileExtreme(measure, parts) : compileExpression(measure, context, plans, measured, where);
    if (isLargerThan(plan.says, MOST_SAID)) throw invalid(where, 'too much is said of it', 'name fewer measures under highest_of or lowest_of, or say less of them');
    plans.set(measure.measure, plan);
    context.scope.addMeasure(measure.measure, plan.type, measure.unit);
    if (plan.uncertainty) measured.set(plan.name, uncertaintyName(measure.measure));
  }
  return [...plans.values()];
}

function partOf(name: string, unit: string, plans: ReadonlyMap<string, MeasurePlan>, where: string): MeasurePlan {
  const plan = plans.get(name);
  if (plan && (plan.type !== 'number' || plan.measure.unit !== unit)) throw invalid(where, `${name} is ${plan.type === 'number' ? `in ${JSON.stringify(plan.measure.unit)}, not in ${JSON.stringify(unit)}` : 'no number'}`, 'name measures in the unit of this one');
  if (plan) return plan;
  const near = nearestName(name, plans.keys());
  throw invalid(where, `no measure above it is named ${name}`, near ? `did you mean ${near}?` : 'put the measures that it is made of before it');
}

function compileExpression(measure: Measure, context: MeasureContext, plans: ReadonlyMap<string, MeasurePlan>, measured: ReadonlyMap<string, string>, where: string): MeasurePlan {
  const { scope, shown = 'psi' } = context;
  const tree = scope.parse(measure.expression!, `${where}, expression`);
  const name = measureName(measure.measure);
  const value = nameOf(name, tree.type);
  const valueText = tree.type === 'number' ? measureText(value, measure.unit, shown) : tree.type === 'text' ? value : call('choose', value, constant('yes'), constant('no'));
  const alternatives = measure.says ?? [{ say: `${measure.title.toLowerCase()} is {value}` }];
  const says = alternatives.reduceRight<Tree | null>((otherwise, { when, say }) => {
    const said = sayTemplate(say, scope, `${where}, says`, { shown, value: { tree: valueText, unit: measure.unit, isNumber: tree.type === 'number' } });
    const clause = shown !== 'psi' && measure.unit === 'psi' && say.includes('{entered ') && !say.includes('{value}') ? call('join', said, alsoShown(value, shown)) : said;
    if (when === undefined || otherwise === null) return clause;
    return call('choose', call('or_else', scope.parse(when, `${where}, says`, 'truth'), constant(false)), clause, otherwise);
  }, null)!;
  const readings = new Set<string>();
  for (const mentioned of namesIn(tree)) {
    if (scope.isReading(mentioned)) readings.add(mentioned);
    else for (const reading of plans.get(mentioned.slice('measure:'.length))?.readings ?? []) readings.add(reading);
  }
  return {
    measure,
    name,
    type: tree.type,
    tree,
    uncertainty: tree.type === 'number' && !measure.diagnosis ? uncertaintyTree(tree, { dictionary: context.dictionary, measured, halfWidths: context.halfWidths }) : null,
    says,
    rechecks: measure.recheck.map(({ when, say }) => ({ when: scope.parse(when, `${where}, recheck`, 'truth'), say: sayTemplate(say, scope, `${where}, recheck`, { shown }) })),
    readings: [...readings],
    heldFor: heldFor(measure, scope, where),
    circuits: ownCircuit(measure, name, tree.type),
  };
}

/** A pressure in the unit in which it is shown, in brackets, where it was entered in another; else an empty text. */
function alsoShown(pressure: Tree, shown: PressureUnit): Tree {
  const isEntered = call('reads', nameOf('pressure_unit', 'text'), constant(shown));
  return call('choose', isEntered, constant(''), call('join', constant(' ('), numberText(pressure, 'psi', shown), constant(` ${shown})`)));
}

function heldFor(measure: Measure, scope: NameScope, where: string): string | null {
  if (measure.held_for === undefined) return null;
  if (scope.isTime(measure.held_for)) return measure.held_for;
  throw invalid(where, `held_for names ${measure.held_for}, which is no time reading`, 'name the time reading of the test');
}

function ownCircuit({ circuit, measure }: Measure, name: string, type: ValueType): readonly CircuitMeasure[] {
  return circuit === undefined ? [] : [{ circuit, measure, name, type }];
}

/** A measure that is the worst of several: its uncertainty and its words are those of the part that counts. */
function compileExtreme(measure: Measure, parts: readonly MeasurePlan[]): MeasurePlan {
  const name = measureName(measure.measure);
  const own = nameOf(name, 'number');
  const ofTheOneThatCounts = (pick: (part: MeasurePlan) => Tree): Tree =>
    parts.slice(0, -1).reduceRight((otherwise, part) => {
      const counts = call('or_else', call('equal', nameOf(part.name, 'number'), own), constant(false));
      return call('choose', counts, pick(part), otherwise);
    }, pick(parts.at(-1)!));
  const held = new Set(parts.map((part) => part.heldFor));
  return {
    measure,
    name,
    type: 'number',
    tree: call(measure.highest_of ? 'highest' : 'lowest', ...parts.map((part) => nameOf(part.name, 'number'))),
    uncertainty: parts.every((part) => part.uncertainty) ? ofTheOneThatCounts((part) => nameOf(uncertaintyName(part.measure.measure), 'number')) : null,
    says: ofTheOneThatCounts((part) => part.says),
    rechecks: [...new Set(parts.flatMap((part) => part.rechecks))],
    readings: [...new Set(parts.flatMap((part) => part.readings))],
    heldFor: held.size === 1 ? [...held][0]! : null,
    circuits: measure.circuit === undefined ? [...new Set(parts.flatMap((part) => part.circuits))] : ownCircuit(measure, name, 'number'),
  };
}

/** A measure's value as words: seconds as a duration, a share in per cent, all else as a number without its unit, a pressure in the unit in which it is shown. */
export function measureText(value: Tree, unit: string, shown: PressureUnit): Tree {
  if (unit === 's') return call('duration', value);
  if (unit === 'share') return call('join', call('text', call('multiply', value, constant(100)), constant(1)), constant(' %'));
  return numberText(value, unit, shown);
}

function invalid(where: string, what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'limit_set_invalid', where, what, mend });
}
