import type { FailRate } from './fail-rate.js';
import type { FailRateGroup } from './group-fail-rate.js';

/** What the interval of a difference says. */
export const DIFFERENCE_WORDS = ['better', 'worse', 'no difference shown', 'not to be compared'] as const;
/** One of {@link DIFFERENCE_WORDS}: what the interval of a difference says. */
export type DifferenceWord = (typeof DIFFERENCE_WORDS)[number];

/** A fail rate of this period beside the earlier one. */
export interface RateDifference {
  readonly group: FailRateGroup | 'all';
  readonly name: string;
  readonly before: FailRate;
  readonly now: FailRate;
  /** Now less before, with its 95 % interval (Newcombe, Statistics in Medicine 17 (1998) 873-890, method 10). */
  readonly difference: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly verdict: DifferenceWord;
}

/** A median of this period beside the earlier one. Losses in psi/min, build-up in s. */
export interface MedianDifference {
  readonly figure: 'released_loss' | 'applied_loss' | 'buildup_time';
  readonly before: number | null;
  readonly now: number | null;
}

/** This period set beside an earlier one. */
export interface BaselineComparison {
  readonly source: { readonly name: string; readonly sha256: string; readonly inspections: number };
  readonly before: { readonly from: string | null; readonly to: string | null };
  readonly now: { readonly from: string | null; readonly to: string | null };
  readonly rates: readonly RateDifference[];
  readonly medians: readonly MedianDifference[];
}
