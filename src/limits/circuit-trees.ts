import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { anyOf, FILLED, part } from './check-names.js';
import { circuitsOfCheck } from './circuits-of-check.js';
import type { CheckPlan } from './compile-checks.js';
import { holds, isDecided } from './verdict-tree.js';

/** A brake circuit that checks of a limit set tell apart. */
export interface CircuitPlan {
  /** Its name, such as `primary`. */
  readonly circuit: string;
  readonly title: string;
  /** Name of its verdict among the names of the row program; the `id` of that computed column. */
  readonly column: string;
  /** The checks that tell it apart. */
  readonly checks: readonly CircuitCheckPlan[];
}

/** What a check says of one circuit. */
export interface CircuitCheckPlan {
  readonly check: CheckPlan;
  readonly title: string;
  /** Name of the verdict of this check on this circuit; the `id` of that computed column. */
  readonly column: string;
}

/** The circuits that the checks tell apart, in order of first mention. */
export function circuitPlans(checks: readonly CheckPlan[]): CircuitPlan[] {
  const circuits = new Set(checks.flatMap((check) => circuitsOfCheck(check).map(({ circuit }) => circuit)));
  return [...circuits].map((circuit) => {
    const words = circuit.replaceAll('_', ' ');
    return {
      circuit,
      title: `${words[0]!.toUpperCase()}${words.slice(1)} circuit`,
      column: `circuit:${circuit}:verdict`,
      checks: checks
        .filter((check) => circuitsOfCheck(check).some((measured) => measured.circuit === circuit))
        .map((check) => ({ check, title: `${check.title}: ${words} circuit`, column: `check:${check.check}:circuit:${circuit}` })),
    };
  });
}

/**
 * The verdict of a check on one circuit: `recheck` with the check itself; where that is decided, `fail` when the measure
 * of the circuit is not within the limit and `pass` when it is; `not tested` where the circuit was not measured. Blank
 * where the check does not apply.
 */
export function checkOnCircuitTree(check: CheckPlan, circuit: string): Tree {
  const own = circuitsOfCheck(check).filter((measured) => measured.circuit === circuit);
  const withins = own.map(({ name, type }) => holds(check, nameOf(name, type)));
  const fails = anyOf(withins.map((within) => call('or_else', call('not', within), constant(false))));
  const given = anyOf(own.map(({ name, type }) => call('given', nameOf(name, type))));
  const verdict = part(check, 'verdict');
  const decided = call('choose', fails, constant('fail'), call('choose', given, constant('pass'), constant('not tested')));
  return call('only_if', call('given', verdict), call('choose', isDecided(check), decided, verdict));
}

/**
 * The verdict of a circuit over all checks that tell it apart: `fail` when any fails on it, else `recheck` when any
 * cannot be decided, else `pass` when any passes, else `not tested`. Blank where the row is not filled.
 */
export function circuitVerdictTree({ checks }: CircuitPlan): Tree {
  const any = (verdict: string): Tree => anyOf(checks.map(({ column }) => call('reads', nameOf(column, 'text'), constant(verdict))));
  const verdict = call('choose', any('fail'), constant('fail'), call('choose', any('recheck'), constant('recheck'), call('choose', any('pass'), constant('pass'), constant('not tested'))));
  return call('only_if', nameOf(FILLED, 'truth'), verdict);
}
