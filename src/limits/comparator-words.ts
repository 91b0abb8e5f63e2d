import type { Comparator } from './limit-set.js';

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
