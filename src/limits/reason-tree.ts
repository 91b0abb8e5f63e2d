import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import { anyOf, part } from './check-names.js';
import { COMPARATOR_WORDS } from './comparator-words.js';
import type { CheckPlan } from './compile-checks.js';
import { measureText } from './compile-measures.js';
import { doubtWords } from './doubt-words.js';

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
      return constant(`the answer must be ${plan.alternatives[0]!.check.must_be}`);
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
  const listed = call('join', constant('not tested; blank or not understood:'), ...absent);
  const allGiven = given.length === 1 ? given[0]! : call('and', ...given);
  return call('choose', allGiven, constant('not tested; it cannot be worked out from these readings'), given.length === 1 ? listed : call('choose', anyOf(given), listed, constant('not tested; nothing was entered')));
}
