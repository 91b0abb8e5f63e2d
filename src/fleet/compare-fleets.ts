import { differenceOfProportions } from '../statistics/difference-of-proportions.js';
import type { BaselineComparison, DifferenceWord, MedianDifference, RateDifference } from './baseline-comparison.js';
import type { FailRate } from './fail-rate.js';
import type { FailRateGroup } from './group-fail-rate.js';
import type { FleetSummary } from './summary.js';

/** A summarised fleet and where it came from. */
export interface SummarisedFleet {
  readonly summary: FleetSummary;
  readonly source: BaselineComparison['source'];
}

/** The groups whose rates are compared, name by name. */
const COMPARED: readonly FailRateGroup[] = ['check', 'site', 'vehicle_kind'];
const NOTHING: FailRate = { tested: 0, failed: 0, recheck: 0, rate: null, low: null, high: null };

/**
 * Sets the fail rates and the median losses of a fleet beside those of an earlier table. Groups are matched by name, the
 * same in small and capital letters. A difference is now less before, with the 95 % interval of Newcombe's hybrid score
 * method (Statistics in Medicine 17 (1998) 873-890, method 10): `better` when the interval lies below 0, `worse` when it
 * lies above. A group of which one side tested nothing, or that one side does not have, is not to be compared.
 *
 * @example compareFleets(now, before).rates[0] // all inspections
 */
export function compareFleets(now: SummarisedFleet, before: SummarisedFleet): BaselineComparison {
  const { name, sha256, inspections } = before.source;
  return {
    source: { name, sha256, inspections },
    before: { from: before.summary.period.from, to: before.summary.period.to },
    now: { from: now.summary.period.from, to: now.summary.period.to },
    rates: [difference('all', 'All inspections', now.summary.fleet, before.summary.fleet), ...COMPARED.flatMap((group) => groupDifferences(group, now, before))],
    medians: (['released_loss', 'applied_loss', 'buildup_time'] as const).map((figure) => medians(figure, now, before)),
  };
}

function groupDifferences(group: FailRateGroup, now: SummarisedFleet, before: SummarisedFleet): RateDifference[] {
  const earlier = new Map(before.summary.fail_rates.filter((rate) => rate.group === group).map((rate) => [rate.name.toLowerCase(), rate]));
  const matched = now.summary.fail_rates
    .filter((rate) => rate.group === group)
    .map((rate) => {
      const key = rate.name.toLowerCase();
      const other = earlier.get(key) ?? NOTHING;
      earlier.delete(key);
      return difference(group, rate.name, rate, other);
    });
  return [...matched, ...[...earlier.values()].map((rate) => difference(group, rate.name, NOTHING, rate))];
}

function difference(group: RateDifference['group'], name: string, now: FailRate, before: FailRate): RateDifference {
  const found = now.tested === 0 || before.tested === 0 ? null : differenceOfProportions(now, before);
  return { group, name, before: plain(before), now: plain(now), difference: found?.difference ?? null, low: found?.low ?? null, high: found?.high ?? null, verdict: verdictOf(found) };
}

function plain({ tested, failed, recheck, rate, low, high }: FailRate): FailRate {
  return { tested, failed, recheck, rate, low, high };
}

function verdictOf(found: { readonly low: number; readonly high: number } | null): DifferenceWord {
  if (found === null) return 'not to be compared';
  return found.high < 0 ? 'better' : found.low > 0 ? 'worse' : 'no difference shown';
}

function medians(figure: MedianDifference['figure'], now: SummarisedFleet, before: SummarisedFleet): MedianDifference {
  const median = ({ summary }: SummarisedFleet): number | null => summary.fleet[`${figure}_median`] ?? null;
  return { figure, before: median(before), now: median(now) };
}
