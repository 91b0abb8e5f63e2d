import type { Reason } from './fleet-figures.js';

/**
 * The bars of a Pareto chart: the reason with most failures first, alike ones by name, each with its share of all and the
 * share of all down to it. Reasons without a failure are left out.
 *
 * @example pareto([{ name: 'Warning', failed: 1 }, { name: 'Build-up', failed: 3 }]).map(({ running_share }) => running_share) // [0.75, 1]
 */
export function pareto(counts: readonly { readonly name: string; readonly failed: number }[]): Reason[] {
  const failures = counts.filter(({ failed }) => failed > 0).sort((a, b) => b.failed - a.failed || (a.name < b.name ? -1 : 1));
  const all = failures.reduce((sum, { failed }) => sum + failed, 0);
  let running = 0;
  return failures.map(({ name, failed }) => {
    running += failed;
    return { reason: name, failed, share: failed / all, running_share: running / all };
  });
}
