import type { FailRate } from './fail-rate.js';

/** What fail rates are broken down by. */
export const FAIL_RATE_GROUPS = ['check', 'circuit', 'site', 'vehicle_kind', 'inspector', 'limit_set', 'period'] as const;
/** One of {@link FAIL_RATE_GROUPS}: what fail rates are broken down by. */
export type FailRateGroup = (typeof FAIL_RATE_GROUPS)[number];

/** What a group's rate says beside the others of its table: outside a funnel's limits or not. */
export const GROUP_FLAGS = ['far higher than the others', 'higher than the others', 'as the others', 'lower than the others', 'far lower than the others', 'too few to judge'] as const;
/** One of {@link GROUP_FLAGS}: what a group's rate says beside the others. */
export type GroupFlag = (typeof GROUP_FLAGS)[number];

/** The fail rate of one group. */
export interface GroupFailRate extends FailRate {
  readonly group: FailRateGroup;
  readonly name: string;
  /** The rate drawn towards the rate of all groups, the more the fewer were tested (empirical Bayes, beta-binomial). Null with fewer than three groups. */
  readonly estimate: number | null;
  /** Null for groups that are not alike by nature, such as checks. */
  readonly flag: GroupFlag | null;
}

/** What a table's groups have in common: the beta distribution of their true rates. */
export interface RatePrior {
  readonly group: FailRateGroup;
  /** Mean of the distribution. */
  readonly mean: number;
  /** How many tests it weighs as much as (alpha + beta); null when the groups do not differ more than chance explains. */
  readonly weight: number | null;
}
