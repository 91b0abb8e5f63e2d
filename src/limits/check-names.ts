import { call } from '../expressions/call.js';
import { constant, nameOf, type Tree } from '../expressions/tree.js';
import type { CheckPlan } from './compile-checks.js';

/** The computed columns that each check has; `alone` is the verdict of a route, whatever the other routes say. */
export type CheckPart = 'verdict' | 'alone' | 'limit' | 'limit_high' | 'limit_shown' | 'limit_high_shown' | 'share' | 'chance' | 'recheck' | 'reason';

/** The name of a computed column of a check among the names of the row program. */
export const checkName = (check: string, part: CheckPart): string => `check:${check}:${part}`;

/** The name of the column in which a measure is shown, where that is not the one that is computed with. */
export const shownName = (measure: string): string => `shown:${measure}`;

/** Yes when any entry cell of the row is filled. */
export const FILLED = 'working:filled';

/** psi in one unit of the row's pressures. */
export const PSI_FACTOR = 'working:psi_factor';

/** A number that the verdicts rest on, by name. */
export const fact = (name: string): Tree => nameOf(`fact:${name}`, 'number');
/** A yes/no that is no where it is blank. */
export const falseIfBlank = (tree: Tree): Tree => call('or_else', tree, constant(false));
/** Yes when any of them is. */
export const anyOf = (trees: readonly Tree[]): Tree => (trees.length === 1 ? trees[0]! : call('or', ...trees));
/** A computed column of a check, as a name in a tree. */
export const part = (plan: CheckPlan, which: CheckPart): Tree => nameOf(checkName(plan.check, which), which === 'verdict' || which === 'alone' || which === 'recheck' || which === 'reason' ? 'text' : 'number');
/** The measure of a check, as a name in a tree. */
export const measureOf = (plan: CheckPlan): Tree => nameOf(plan.measure.name, plan.measure.type);
