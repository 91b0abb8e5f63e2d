import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import { doubtfulTree } from './chance-tree.js';
import { fact, measureOf, part, PSI_FACTOR, type CheckPart } from './check-names.js';
import type { CheckPlan } from './compile-checks.js';
import { READABLE, uncertaintyName } from './uncertainty-tree.js';

/**
 * The hold time or the readability that would decide a doubtful verdict at the same leak: the standard uncertainty must
 * shrink by k = z u / |limit - value|; it shrinks with the time held, and with the readability.
 */
export function doubtWords(plan: CheckPlan): Tree {
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
