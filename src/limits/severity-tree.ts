import { call } from '../expressions/call.js';
import { constant, type Tree } from '../expressions/tree.js';
import { byAlternative } from './by-alternative.js';
import type { CheckPlan } from './compile-checks.js';
import { SEVERITIES, SEVERITY_WORDS, type Severity } from './severity.js';

/** Whether the alternative that applies is of that severity; null when none of the check is. */
export function isOfSeverity(plan: CheckPlan, severity: Severity): Tree | null {
  const of = plan.alternatives.map(({ check }) => check.severity === severity);
  if (!of.includes(true)) return null;
  return of.includes(false) ? call('or_else', byAlternative(plan, ({ check }) => constant(check.severity === severity)), constant(false)) : constant(true);
}

/** ` Fails (major defect).`, by the severity of the alternative that applies; an empty text without one. */
export function severityWords(plan: CheckPlan): Tree {
  return SEVERITIES.reduce<Tree>((otherwise, severity) => {
    const is = isOfSeverity(plan, severity);
    return is === null ? otherwise : call('choose', is, constant(` Fails (${SEVERITY_WORDS[severity]}).`), otherwise);
  }, constant(''));
}
