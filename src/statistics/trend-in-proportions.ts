import { normalCdf } from './normal-cdf.js';
import type { Proportion } from './proportion.js';

/**
 * The Cochran-Armitage test for a trend in proportions (Armitage, Biometrics 11 (1955) 375-386), without continuity
 * correction: z above 0 where the share of failures rises with the score, and its two-sided p-value. Groups without
 * tests are left out. Null where fewer than two groups have any, where none or all failed, where all scores are equal, or where one is missing.
 *
 * @param counts one for each group, in their order
 * @param scores the place of each group; 0, 1, 2 … unless told
 * @example trendInProportions([{ failed: 1, tested: 10 }, { failed: 5, tested: 10 }]) // { z: 1.951…, p: 0.05096… }
 */
export function trendInProportions(counts: readonly Proportion[], scores: readonly number[] = counts.map((_, i) => i)): { readonly z: number; readonly p: number } | null {
  const groups = counts.flatMap(({ failed, tested }, i) => (tested > 0 ? [{ failed, tested, score: scores[i]! }] : []));
  const tested = groups.reduce((sum, group) => sum + group.tested, 0);
  const rate = groups.reduce((sum, group) => sum + group.failed, 0) / tested;
  if (!(rate > 0 && rate < 1)) return null;
  const centre = groups.reduce((sum, group) => sum + group.tested * group.score, 0) / tested;
  const spread = groups.reduce((sum, group) => sum + group.tested * (group.score - centre) ** 2, 0);
  if (!(spread > 0) || groups.every(({ score }) => score === groups[0]!.score)) return null;
  const rise = groups.reduce((sum, group) => sum + (group.score - centre) * (group.failed - group.tested * rate), 0);
  const z = rise / Math.sqrt(rate * (1 - rate) * spread);
  return { z, p: Math.min(1, 2 * normalCdf(-Math.abs(z))) };
}
