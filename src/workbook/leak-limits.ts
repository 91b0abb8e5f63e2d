import { toWords } from '../expressions/to-words.js';
import type { Tree } from '../expressions/tree.js';
import { comparatorOf, printedLimits } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { titlesOf } from './limit-words.js';

/** A number that a limit set sets for a leak. */
export interface LeakLimit {
  /** What it is for: the check, and when it applies. */
  readonly title: string;
  /** The limit in psi a minute, over the cells of the sheet Limits. */
  readonly tree: Tree;
}

/**
 * The limits of a set on how fast pressure may be lost: those of measures by which units are ranked, in psi a minute. A limit
 * that depends on other readings is left out, for it is no number.
 */
export function leakLimits(plan: LimitPlan): LeakLimit[] {
  const titles = titlesOf(plan);
  return plan.checks.flatMap(({ title, measure, alternatives }) => {
    if (!measure.measure.ranks_units || measure.measure.unit !== 'psi/min') return [];
    return alternatives.flatMap(({ check, when, limits }): LeakLimit[] => {
      const isMost = ['at_most', 'less_than'].includes(comparatorOf(check));
      if (!isMost || typeof printedLimits(check)[0] !== 'number') return [];
      return [{ title: when === null ? title : `${title} (${toWords(when, titles)})`, tree: limits[0]! }];
    });
  });
}
