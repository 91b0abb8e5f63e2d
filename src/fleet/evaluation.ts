import type { Value } from '../expressions/tree.js';
import type { Comparator } from '../limits/limit-set.js';
import type { Severity } from '../limits/severity.js';
import type { Verdict } from '../limits/verdict.js';
import type { Inspection } from '../readings/inspection.js';

/** What several limit sets say of one inspection. */
export interface Borders {
  /** The verdict under each set, by its identifier. */
  readonly verdicts: Readonly<Record<string, Verdict>>;
  /** Where they disagree, in words; null where they do not. */
  readonly disagreement: string | null;
}

/** What came of one check of one inspection. */
export interface CheckResult {
  /** The identifier of the limit set that it is of. */
  readonly limit_set: string;
  readonly check: string;
  readonly measure: string;
  /** The measure's value in `unit`; null when it was not tested. */
  readonly value: number | string | boolean | null;
  readonly unit: string;
  readonly comparator: Comparator;
  /** The limit in `unit`; two numbers for `between`, `yes` or `no` for `must_be`, null where none applies or is set. */
  readonly limit: number | readonly [number, number] | 'yes' | 'no' | null;
  readonly verdict: Verdict;
  /** 1 is at the limit, above 1 beyond it. */
  readonly share_of_limit: number | null;
  /** JCGM 106 conformance probability from the gauge's readability, 0 to 1. */
  readonly chance_within_limit: number | null;
  readonly reason: string;
  readonly citation: string;
  readonly status: string;
  /** How grave it is to be outside the limit; null where the set does not say. */
  readonly severity: Severity | null;
}

/** What came of one inspection. */
export interface Evaluation {
  readonly row: number;
  readonly inspection_id: string | null;
  readonly inspected_on: string | null;
  readonly unit: string | null;
  readonly verdict: Verdict;
  readonly reason: string;
  readonly measures: Readonly<Record<string, number | string | boolean | null>>;
  /** The checks that apply to this inspection. */
  readonly checks: readonly CheckResult[];
  /** Only where several limit sets were held against it. */
  readonly borders?: Borders;
  /** The inspection that was evaluated. */
  readonly inspection: Inspection;
  /** The value of every computed column, in the order of the plan's columns. */
  readonly computed: readonly Value[];
}
