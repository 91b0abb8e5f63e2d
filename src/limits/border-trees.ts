import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { anyOf, part } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import { measureText, type MeasurePlan } from './compile-measures.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { joinGiven } from './join-given.js';
import type { SetPart } from './set-parts.js';
import { unitShown } from './shown-pressure.js';

/** The name of the words that say where several limit sets disagree on an inspection. */
export const DISAGREEMENT = 'overall:disagreement';

/** The name of what is said of one measure. */
export const borderName = (measure: string): string => `border:${measure}`;

/** The measures that a check of any of the sets holds against a limit, in the order of the checks. */
export function borderMeasures(sets: readonly SetPart[]): MeasurePlan[] {
  return [...new Set(sets.flatMap(({ checks }) => decidable(checks).map(({ measure }) => measure)))];
}

/**
 * What the sets say of one measure where they disagree: `Passes in Nevada, fails in New Hampshire: released loss 2.5 psi/min.`
 * They disagree where it fails under one and under another passes, or has no limit. Blank where they do not.
 */
export function borderTree(measure: MeasurePlan, sets: readonly SetPart[], shown: PressureUnit): Tree {
  const own = sets.map((set) => decidable(set.checks).filter((check) => check.measure === measure));
  const says = (index: number, verdict: string): Tree | null => (own[index]!.length === 0 ? null : anyOf(own[index]!.map((check) => call('reads', part(check, 'verdict'), constant(verdict)))));
  const fails = sets.flatMap((_, index) => says(index, 'fail') ?? []);
  const others = sets.map((_, index) => {
    if (own[index]!.length === 0) return constant(true);
    const applies = anyOf(own[index]!.map((check) => call('given', part(check, 'verdict'))));
    return call('or', call('and', says(index, 'pass')!, call('not', says(index, 'fail')!)), call('not', applies));
  });
  const pieces = sets.map(({ label }, index) => {
    const words = (verb: string): Tree => constant(`${index === 0 ? verb[0]!.toUpperCase() + verb.slice(1) : `, ${verb}`} ${label}`);
    if (own[index]!.length === 0) return words('no limit in');
    return (['fail', 'recheck', 'pass', 'not tested'] as const).reduceRight<Tree>((otherwise, verdict) => call('choose', says(index, verdict)!, words(VERBS[verdict]), otherwise), words('no limit in'));
  });
  return call('only_if', call('and', anyOf(fails), anyOf(others)), call('join', ...pieces, constant(`: ${lowerFirst(measure.measure.title)}`), valueWords(measure, shown), constant('.')));
}

const VERBS = { fail: 'fails in', recheck: 'not decided in', pass: 'passes in', 'not tested': 'not tested in' } as const;

/** Where the sets disagree on an inspection, one sentence for each measure; blank where they do not. */
export function disagreementTree(measures: readonly MeasurePlan[]): Tree {
  return joinGiven(measures.map(({ measure }) => nameOf(borderName(measure.measure), 'text')));
}

function decidable(checks: readonly CheckPlan[]): CheckPlan[] {
  return checks.filter(({ comparator }) => comparator !== 'no_number');
}

function valueWords({ name, type, measure: { unit } }: MeasurePlan, shown: PressureUnit): Tree {
  if (type !== 'number') return call('choose', nameOf(name, 'truth'), constant(': yes'), constant(': no'));
  const suffix = unit === 's' || unit === 'share' || unit === '' ? '' : ` ${unitShown(unit, shown)}`;
  return call('join', constant(' '), measureText(nameOf(name, 'number'), unit, shown), constant(suffix));
}

function lowerFirst(words: string): string {
  return words[0]!.toLowerCase() + words.slice(1);
}
