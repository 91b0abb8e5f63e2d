import type { CheckResult } from '../fleet/evaluation.js';
import type { AlternativePlan, CheckPlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { COMPARATOR_WORDS, endWords, noNumberWords } from '../limits/comparator-words.js';
import { FACTS_USED } from '../limits/facts-used.js';
import { LIMIT_UNITS } from '../limits/limit-units.js';
import { formatTime } from '../readings/format-time.js';

/** What came of a check, in the unit in which its limit is printed. */
export interface PrintedResult {
  /** `2.5 psi/min`, `4:10 (min:s)`, `yes`; empty when nothing was measured. */
  readonly measured: string;
  /** `at most 3 psi/min` */
  readonly limit: string;
}

/** A check result in the words of paper: the measure and the limit that applied, in the unit in which the limit is printed. */
export function printedResult(plan: LimitPlan, result: CheckResult): PrintedResult {
  const check = plan.checks.find((one) => one.check === result.check) ?? null;
  const applied = check && appliedAlternative(check, result);
  const unit = applied?.check.unit ?? result.unit;
  const measured = result.value === null ? '' : printedValue(result.value, result.unit, unit);
  return { measured, limit: result.comparator === 'no_number' && check ? noNumberWords(check) : limitText(result, unit) + endWords(applied?.check.without_ends) };
}

/** The alternative of a check by which a result came about, as its source tells. */
export function appliedAlternative({ alternatives }: CheckPlan, { citation, status, severity }: CheckResult): AlternativePlan {
  const fits = ({ check }: AlternativePlan): boolean => check.source.citation === citation && check.source.status === status && (check.severity ?? null) === severity;
  return alternatives.find(fits) ?? alternatives[0]!;
}

/** The unit in which a measure is printed: that of the first check with a number on it, or on a measure that it is a part of; null where there is none. */
export function shownUnit({ checks, measures }: LimitPlan, measure: string): string | null {
  const wholes = measures.filter(({ measure: { highest_of, lowest_of } }) => (highest_of ?? lowest_of ?? []).includes(measure)).map(({ measure: whole }) => whole.measure);
  const numbered = checks.filter(({ comparator }) => comparator !== 'no_number' && comparator !== 'must_be');
  const on = [measure, ...wholes].map((name) => numbered.find((check) => check.measure.measure.measure === name)).find((check) => check !== undefined);
  return on?.alternatives[0]!.check.unit ?? null;
}

/**
 * A value in the unit in which it is printed; a time as minutes and seconds.
 *
 * @example printedValue(2.9, 'psi/min', 'kPa/min') // '19.99 kPa/min'
 */
export function printedValue(value: number | string | boolean, unit: string, printed: string): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  if (unit === 's' || unit === 'min') return `${formatTime(Math.max(0, Math.round(value * (unit === 'min' ? 600 : 10)) / 10))} (min:s)`;
  return withUnit(converted(value, unit, printed), printed);
}

function limitText({ comparator, limit, unit }: CheckResult, printed: string): string {
  if (limit === null) return 'cannot be worked out';
  if (limit === 'yes' || limit === 'no') return `${COMPARATOR_WORDS.must_be} ${limit}`;
  const words = COMPARATOR_WORDS[comparator];
  const text = (value: number): string => withUnit(converted(value, unit, printed), printed);
  return typeof limit === 'number' ? `${words} ${text(limit)}` : `${words} ${text(limit[0]).split(' ')[0]} and ${text(limit[1])}`;
}

function withUnit(value: number, unit: string): string {
  return unit === 'share' ? `${rounded(value * 100)} %` : `${rounded(value)} ${unit}`.trim();
}

/** Three significant digits of what is below 1, two decimals of the rest. */
function rounded(value: number): string {
  return String(Number(Math.abs(value) < 1 ? value.toPrecision(3) : value.toFixed(2)));
}

function converted(value: number, unit: string, printed: string): number {
  return unit === printed ? value : value / factorOf(printed);
}

/** How many units of the measure one unit of the limit is. */
function factorOf(unit: string): number {
  const { factor, times = 1, minutes = 1 } = LIMIT_UNITS.get(unit) ?? { factor: 1 };
  const one = typeof factor === 'number' ? factor : FACTS_USED.find(({ fact }) => fact === factor)!.value;
  return (one * times) / minutes;
}
