import type { CheckPlan } from './compile-checks.js';
import type { Check } from './limit-set.js';
import { SEVERITY_WORDS } from './severity.js';

/** What is to be said of a check beside its title, in brackets: whether it is optional, how grave it is, and whether another route is enough. */
export function remarks({ optional, otherRoutes }: CheckPlan, { severity }: Check): string {
  const words = [...(optional ? ['optional'] : []), ...(severity ? [SEVERITY_WORDS[severity]] : []), ...(otherRoutes.length > 0 ? ['one route is enough'] : [])];
  return words.length === 0 ? '' : ` (${words.join(', ')})`;
}
