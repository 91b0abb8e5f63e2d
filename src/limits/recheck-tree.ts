import { call } from '../expressions/call.js';
import { constant, nameOf, namesIn, type Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import { fact, falseIfBlank, PSI_FACTOR } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import { enteredName } from './say-template.js';

/**
 * Why the readings cannot decide the check, as a text; blank when they can: a contradiction, a condition of the
 * authority that is not met, or a pressure beyond any plausible one.
 */
export function recheckTree(plan: CheckPlan, dictionary: Dictionary): Tree {
  const rechecks = plan.rechecks.map(({ when, say }) => ({ when, say: call('or_else', say, constant('the readings cannot decide it')) }));
  const inLimits = plan.alternatives.flatMap(({ limits }) => limits.flatMap((limit) => [...namesIn(limit)]));
  const pressures = [...new Set([...plan.measure.readings, ...inLimits])].filter((name) => dictionary.fields[dictionary.position.get(name) ?? -1]?.kind === 'pressure');
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
