import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import type { CheckPlan } from './compile-checks.js';
import { measureText } from './compile-measures.js';
import type { Comparator } from './limit-set.js';
import { enteredName } from './say-template.js';
import { READABLE, uncertaintyName } from './uncertainty-tree.js';

/** The computed columns that each check has. */
export type CheckPart = 'verdict' | 'limit' | 'limit_high' | 'share' | 'chance' | 'recheck' | 'reason';

/** The name of a computed column of a check among the names of the row program. */
export const checkName = (check: string, part: CheckPart): string => `check:${check}:${part}`;

/** Yes when any entry cell of the row is filled. */
export const FILLED = 'working:filled';

/** psi in one unit of the row's pressures. */
export const PSI_FACTOR = 'working:psi_factor';

const fact = (name: string): Tree => nameOf(`fact:${name}`, 'number');
const falseIfBlank = (tree: Tree): Tree => call('or_else', tree, constant(false));
const anyOf = (trees: readonly Tree[]): Tree => (trees.length === 1 ? trees[0]! : call('or', ...trees));
const part = (plan: CheckPlan, which: CheckPart): Tree => nameOf(checkName(plan.check, which), which === 'verdict' || which === 'recheck' || which === 'reason' ? 'text' : 'number');
const measureOf = (plan: CheckPlan): Tree => nameOf(plan.measure.name, plan.measure.type);

/** When a check applies at all: the row is filled, and one of its alternatives holds. */
function applies(plan: CheckPlan): Tree {
  const filled = nameOf(FILLED, 'truth');
  if (plan.alternatives.some(({ when }) => when === null)) return filled;
  return call('and', filled, anyOf(plan.alternatives.map(({ when }) => falseIfBlank(when!))));
}

/** The limit that applies to the row, in the unit of the measure: that of the first alternative whose `when` holds. */
export function limitTree(plan: CheckPlan, end: 0 | 1 = 0): Tree {
  const chosen = plan.alternatives.reduceRight<Tree | null>((otherwise, { when, limits }) => {
    if (when === null) return limits[end]!;
    if (otherwise === null) return call('only_if', falseIfBlank(when), limits[end]!);
    return call('choose', falseIfBlank(when), limits[end]!, otherwise);
  }, null)!;
  return call('only_if', nameOf(FILLED, 'truth'), chosen);
}

/**
 * Why the readings cannot decide the check, as a text; blank when they can: a contradiction, a condition of the
 * authority that is not met, or a pressure beyond any plausible one.
 */
export function recheckTree(plan: CheckPlan, dictionary: Dictionary): Tree {
  const rechecks = [...plan.rechecks];
  const pressures = plan.measure.readings.filter((name) => dictionary.fields[dictionary.position.get(name)!]!.kind === 'pressure');
  if (pressures.length > 0) {
    const entered = pressures.map((name) => nameOf(enteredName(name), 'number'));
    const highest = entered.length === 1 ? entered[0]! : call('highest', ...entered);
    rechecks.push({
      when: call('greater', call('multiply', highest, nameOf(PSI_FACTOR, 'number')), fact('highest_plausible')),
      say: call('join', constant('a reading of '), call('text', highest, constant(2)), constant(' '), nameOf('pressure_unit', 'text'), constant(' is higher than any gauge of this kind shows; check its unit and digits')),
    });
  }
  if (rechecks.length === 0) return call('only_if', constant(false), constant(''));
  const last = rechecks.at(-1)!;
  const lastOnly = call('only_if', falseIfBlank(last.when), last.say);
  return rechecks.slice(0, -1).reduceRight((otherwise, { when, say }) => call('choose', falseIfBlank(when), say, otherwise), lastOnly);
}

/** The verdict of a check, by simple acceptance: the measure against the limit with the printed comparator. */
export function verdictTree(plan: CheckPlan): Tree {
  const decided = call('choose', holds(plan), constant('pass'), constant('fail'));
  const verdict = plan.comparator === 'no_number' ? constant('not tested') : call('choose', call('given', part(plan, 'recheck')), constant('recheck'), call('or_else', decided, constant('not tested')));
  return call('only_if', applies(plan), verdict);
}

function holds(plan: CheckPlan): Tree {
  const measure = measureOf(plan);
  const limit = part(plan, 'limit');
  switch (plan.comparator) {
    case 'at_most':
      return call('less_or_equal', measure, limit);
    case 'less_than':
      return call('less', measure, limit);
    case 'at_least':
      return call('greater_or_equal', measure, limit);
    case 'more_than':
      return call('greater', measure, limit);
    case 'between':
      return call('and', call('greater_or_equal', measure, limit), call('less_or_equal', measure, part(plan, 'limit_high')));
    case 'must_be':
      return plan.alternatives[0]!.check.must_be === 'yes' ? measure : call('not', measure);
    case 'no_number':
      return constant(true);
  }
}

/** The share of the limit used: 1 is at the limit, above 1 is beyond it. Blank without a verdict of pass or fail. */
export function shareTree(plan: CheckPlan): Tree | null {
  const share = bareShare(plan);
  return share && call('only_if', isDecided(plan), share);
}

function bareShare(plan: CheckPlan): Tree | null {
  const [measure, limit] = [measureOf(plan), part(plan, 'limit')];
  switch (plan.comparator) {
    case 'at_most':
    case 'less_than':
      return call('divide', measure, limit);
    case 'at_least':
    case 'more_than':
      return call('divide', limit, measure);
    case 'between':
      return call('max', call('divide', measure, part(plan, 'limit_high')), call('divide', limit, measure));
    default:
      return null;
  }
}

/**
 * The chance that the true value is within the limit, from the readability of the gauge: JCGM 106:2012, 7.3 and 7.4
 * (the normal conformance probability). Blank without a verdict or without a known readability.
 */
export function chanceTree(plan: CheckPlan): Tree | null {
  if (plan.measure.uncertainty === null) return null;
  const u = nameOf(uncertaintyName(plan.measure.measure.measure), 'number');
  const [measure, limit] = [measureOf(plan), part(plan, 'limit')];
  const below = (end: Tree): Tree => call('normal_cdf', call('divide', call('subtract', end, measure), u));
  const chance = (): Tree | null => {
    switch (plan.comparator) {
      case 'at_most':
      case 'less_than':
        return below(limit);
      case 'at_least':
      case 'more_than':
        return call('normal_cdf', call('divide', call('subtract', measure, limit), u));
      case 'between':
        return call('subtract', below(part(plan, 'limit_high')), below(limit));
      default:
        return null;
    }
  };
  const tree = chance();
  return tree && call('only_if', isDecided(plan), tree);
}

function isDecided(plan: CheckPlan): Tree {
  const verdict = part(plan, 'verdict');
  return call('or', call('reads', verdict, constant('pass')), call('reads', verdict, constant('fail')));
}

/** Holds when the gauge is too coarse to be sure of the verdict; null when the check has no chance. */
export function doubtfulTree(plan: CheckPlan): Tree | null {
  if (chanceTree(plan) === null) return null;
  const chance = part(plan, 'chance');
  return falseIfBlank(call('and', call('greater', chance, call('subtract', constant(1), fact('sure_share'))), call('less', chance, fact('sure_share'))));
}

/** The comparators in words, before the limit. */
export const COMPARATOR_WORDS: Readonly<Record<Comparator, string>> = {
  at_most: 'at most',
  less_than: 'less than',
  at_least: 'at least',
  more_than: 'more than',
  between: 'between',
  must_be: 'must be',
  no_number: 'no number set',
};

/** The reason of a check as a sentence: what was read, against what, and where the gauge was too coarse to tell. */
export function reasonTree(plan: CheckPlan, dictionary: Dictionary): Tree {
  const titles = (reading: string): string => dictionary.fields[dictionary.position.get(reading)!]!.title;
  const title = constant(`${plan.title}: `);
  const verdict = part(plan, 'verdict');
  const decided = call('join', title, plan.measure.says, constant('; '), ruleWords(plan), constant('.'), doubtWords(plan));
  const recheck = call('join', title, part(plan, 'recheck'), constant('.'));
  const notTested = call('join', title, notTestedWords(plan, titles), constant('.'));
  const sentence = call('choose', call('reads', verdict, constant('recheck')), call('or_else', recheck, constant('')), call('choose', call('reads', verdict, constant('not tested')), notTested, decided));
  return call('only_if', call('given', verdict), sentence);
}

function ruleWords(plan: CheckPlan): Tree {
  const { unit } = plan.measure.measure;
  const suffix = unit === 's' || unit === 'share' || unit === '' ? '' : ` ${unit}`;
  const limit = measureText(part(plan, 'limit'), unit);
  switch (plan.comparator) {
    case 'at_most':
    case 'less_than':
      return call('join', constant(`${COMPARATOR_WORDS[plan.comparator]} `), limit, constant(`${suffix} is allowed`));
    case 'at_least':
    case 'more_than':
      return call('join', constant(`${COMPARATOR_WORDS[plan.comparator]} `), limit, constant(`${suffix} is required`));
    case 'between':
      return call('join', constant('between '), limit, constant(' and '), measureText(part(plan, 'limit_high'), unit), constant(`${suffix} is required`));
    case 'must_be':
      return constant(`it must be ${plan.alternatives[0]!.check.must_be}`);
    case 'no_number':
      return constant('this authority sets no number');
  }
}

function notTestedWords(plan: CheckPlan, titles: (reading: string) => string): Tree {
  if (plan.comparator === 'no_number') return constant('this authority sets no number');
  const { readings } = plan.measure;
  if (readings.length === 0) return constant('not tested');
  const given = readings.map((name) => call('given', nameOf(name, 'number')));
  const absent = readings.map((name, index) => call('choose', given[index]!, constant(''), constant(` [${titles(name)}]`)));
  if (absent.length === 1) return call('join', constant('not tested; blank or not understood:'), absent[0]!);
  return call('choose', anyOf(given), call('join', constant('not tested; blank or not understood:'), ...absent), constant('not tested; nothing was entered'));
}

/**
 * The hold time or the readability that would decide a doubtful verdict at the same leak: the standard uncertainty must
 * shrink by k = z u / |limit - value|; it shrinks with the time held, and with the readability.
 */
function doubtWords(plan: CheckPlan): Tree {
  const doubtful = doubtfulTree(plan);
  if (doubtful === null) return constant('');
  const distance = distanceToLimit(plan);
  const factor = shrinkFactor(plan);
  const opening = call('join', constant(' The gauge is too coarse to be sure (chance of being within the limit '), chanceText(plan), constant(' %)'));
  const readable = call('round_down', call('divide', call('divide', nameOf(READABLE, 'number'), factor), nameOf(PSI_FACTOR, 'number')), constant(2));
  const finer = call('join', constant('use a gauge that can be read to '), call('text', readable, constant(2)), constant(' '), nameOf('pressure_unit', 'text'));
  const hold = holdText(plan);
  const longer = hold === null ? null : call('join', constant('hold the test for '), hold);
  const mend = longer === null ? finer : call('or_else', call('join', longer, constant(', or '), finer), longer);
  const atLimit = constant(': it lies at the limit, and only a finer gauge can tell.');
  const advice = call('choose', call('greater', distance, constant(0)), call('or_else', call('join', constant('. To decide it, '), mend, constant('.')), constant('.')), atLimit);
  return call('choose', doubtful, call('join', opening, advice), constant(''));
}

/** A few words for a pass that the gauge is too coarse to be sure of. */
export function briefDoubtTree(plan: CheckPlan): Tree {
  const hold = holdText(plan);
  const surer = hold === null ? constant('.') : call('or_else', call('join', constant('; hold '), hold, constant(' to decide.')), constant('.'));
  return call('join', constant(`${plan.title}: within the limit with a chance of only `), chanceText(plan), constant(' % on this gauge'), surer);
}

function chanceText(plan: CheckPlan): Tree {
  return call('text', call('multiply', part(plan, 'chance'), constant(100)), constant(1));
}

/** By how much the standard uncertainty must shrink for 95 %. Blank at the limit itself. */
function shrinkFactor(plan: CheckPlan): Tree {
  return call('divide', call('multiply', fact('sure_z'), nameOf(uncertaintyName(plan.measure.measure.measure), 'number')), distanceToLimit(plan));
}

/** How long to hold the test, in whole half minutes; null for a measure that is not held. */
function holdText(plan: CheckPlan): Tree | null {
  const held = plan.measure.heldFor;
  return held === null ? null : call('duration', call('round_up_to', call('multiply', nameOf(held, 'number'), shrinkFactor(plan)), constant(30)));
}

function distanceToLimit(plan: CheckPlan): Tree {
  const measure = measureOf(plan);
  const from = (limit: CheckPart): Tree => call('abs', call('subtract', part(plan, limit), measure));
  return plan.comparator === 'between' ? call('min', from('limit'), from('limit_high')) : from('limit');
}
