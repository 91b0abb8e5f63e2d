import { call } from '../expressions/call.js';
import { constant, isConstant, nameOf, type Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import type { PressureUnit } from '../readings/pressure-units.js';
import { anyOf, part } from './check-names.js';
import { COMPARATOR_WORDS, endWords, noNumberWords } from './comparator-words.js';
import type { CheckPlan } from './compile-checks.js';
import { measureText } from './compile-measures.js';
import { doubtWords } from './doubt-words.js';
import { isOfSeverity, severityWords } from './severity-tree.js';
import { unitShown } from './shown-pressure.js';
import { anyOtherRoute } from './verdict-tree.js';

/** The reason of a check as a sentence: what was read, against what, and where the gauge was too coarse to tell. */
export function reasonTree(plan: CheckPlan, dictionary: Dictionary, shown: PressureUnit): Tree {
  const titles = (reading: string): string => dictionary.fields[dictionary.position.get(reading)!]!.title;
  const title = constant(`${plan.title}: `);
  const verdict = part(plan, 'verdict');
  const against = call('join', title, plan.measure.says, constant('; '), ruleWords(plan, shown), constant('.'));
  const gravity = severityWords(plan);
  const decided = isConstant(gravity, '') ? call('join', against, doubtWords(plan)) : call('join', against, call('choose', call('reads', verdict, constant('fail')), gravity, constant('')), doubtWords(plan));
  const cannot = call('join', title, part(plan, 'recheck'), constant('.'));
  const outside = outsideWords(plan);
  const recheck = outside === null ? cannot : call('choose', call('given', part(plan, 'recheck')), cannot, call('join', against, outside));
  const untested = call('join', title, notTestedWords(plan, titles), constant('.'));
  const notTested = plan.otherRoutes.length === 0 ? untested : call('choose', anyOtherRoute(plan, 'pass'), call('join', title, constant('not needed: it passes by another route.')), untested);
  const sentence = call('choose', call('reads', verdict, constant('recheck')), call('or_else', recheck, constant('')), call('choose', call('reads', verdict, constant('not tested')), notTested, decided));
  return call('only_if', call('given', verdict), sentence);
}

/** What is said of a reading outside the limit that is no failure: by the severity, or because another route is open; null where there is neither. */
function outsideWords(plan: CheckPlan): Tree | null {
  const route = plan.otherRoutes.length === 0 ? null : constant(' It fails by this route; the rule lets it pass by another: test that one.');
  const advisory = isOfSeverity(plan, 'advisory');
  if (advisory === null) return route;
  const advice = constant(' It is outside what the source calls usual: look up the maker\'s value.');
  return call('choose', advisory, advice, route ?? constant(''));
}

function ruleWords(plan: CheckPlan, shown: PressureUnit): Tree {
  const { unit } = plan.measure.measure;
  const suffix = unit === 's' || unit === 'share' || unit === '' ? '' : ` ${unitShown(unit, shown)}`;
  const limit = measureText(part(plan, 'limit'), unit, shown);
  switch (plan.comparator) {
    case 'at_most':
    case 'less_than':
      return call('join', constant(`${COMPARATOR_WORDS[plan.comparator]} `), limit, constant(`${suffix} is allowed`));
    case 'at_least':
    case 'more_than':
      return call('join', constant(`${COMPARATOR_WORDS[plan.comparator]} `), limit, constant(`${suffix} is required`));
    case 'between':
      return call('join', constant('between '), limit, constant(' and '), measureText(part(plan, 'limit_high'), unit, shown), constant(`${suffix} is required${endWords(plan.alternatives[0]!.check.without_ends)}`));
    case 'must_be':
      return constant(`the answer must be ${plan.alternatives[0]!.check.must_be}`);
    case 'no_number':
      return constant(noNumberWords(plan));
  }
}

function notTestedWords(plan: CheckPlan, titles: (reading: string) => string): Tree {
  if (plan.comparator === 'no_number') return constant(noNumberWords(plan));
  const { readings } = plan.measure;
  if (readings.length === 0) return constant('not tested');
  const given = readings.map((name) => call('given', nameOf(name, 'number')));
  const absent = readings.map((name, index) => call('choose', given[index]!, constant(''), constant(` [${titles(name)}]`)));
  const listed = call('join', constant('not tested; blank or not understood:'), ...absent);
  const allGiven = given.length === 1 ? given[0]! : call('and', ...given);
  return call('choose', allGiven, constant('not tested; it cannot be worked out from these readings'), given.length === 1 ? listed : call('choose', anyOf(given), listed, constant('not tested; nothing was entered')));
}
