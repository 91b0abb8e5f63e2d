import type { CheckPlan } from './compile-checks.js';
import type { Check, Comparator } from './limit-set.js';

/** The comparators in words, before the limit. */
export const COMPARATOR_WORDS: Readonly<Record<Comparator, string>> = {
  at_most: 'at most',
  less_than: 'less than',
  at_least: 'at least',
  more_than: 'more than',
  between: 'between',
  must_be: 'must be',
  no_number: 'no number set',
};

/** Which ends of a band are outside, in words. */
export function endWords(without: Check['without_ends']): string {
  if (without === undefined) return '';
  return without === 'both' ? ', the ends themselves not' : `, the ${without} end itself not`;
}

/** Why there is no number to hold a measure against. */
export function noNumberWords({ alternatives }: CheckPlan): string {
  return alternatives[0]!.check.no_number === 'not known' ? 'the number of this authority is not known here' : 'this authority sets no number';
}
