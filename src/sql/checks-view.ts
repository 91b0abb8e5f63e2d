import type { SqlDialect } from '../expressions/sql-dialect.js';
import { checkName, type CheckPart } from '../limits/check-names.js';
import type { AlternativePlan, CheckPlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { alternativeColumn } from './inspections-view.js';
import { shortName } from './short-name.js';

/** What of an inspection stands beside each of its checks. */
const OF_INSPECTION = ['inspection_id', 'inspected_on', 'unit', 'vehicle_kind', 'site', 'inspector'] as const;

/** One row of numbers, one for each check: an inspection is read once, whatever the number of checks. */
const CHECK_NUMBER = 'number_of_check';

/** The query of the view `checks`: a row for each inspection and each check that applies to it. */
export function checksQuery(plan: LimitPlan, inspections: string, dialect: SqlDialect): string {
  const byId = new Map(plan.columns.map((column) => [column.id, column]));
  const setOf = new Map(plan.sets.flatMap(({ set, checks }) => checks.map(({ check }) => [check, set.id] as const)));
  const column = (check: CheckPlan, part: CheckPart): string | null => columnOf(byId.get(checkName(check.check, part))?.name ?? null);
  const columnOf = (name: string | null): string | null => (name === null ? null : dialect.identifier(shortName(name, dialect)));
  /** The text or column of each check; NULL where it has none. */
  const each = (name: string, type: string, of: (check: CheckPlan) => string | null): string => {
    const cases = plan.checks.flatMap((check, index) => {
      const text = of(check);
      return text === null ? [] : [`WHEN ${index + 1} THEN ${text}`];
    });
    return `${cases.length === 0 ? `CAST(NULL AS ${type})` : `CASE ${CHECK_NUMBER} ${cases.join(' ')} END`} AS ${dialect.identifier(name)}`;
  };
  const constants = (name: string, of: (check: CheckPlan) => string): string => each(name, dialect.text, (check) => dialect.quote(of(check)));
  const ofSource = (name: string, of: (alternative: AlternativePlan) => string | null): string => each(name, dialect.text, (check) => byAlternative(check, of, columnOf(alternativeColumn(check)), dialect));
  const number = (truth: boolean): string => dialect.number(truth ? 1 : 0);
  const value = (check: CheckPlan): string | null => {
    const own = columnOf(byId.get(check.measure.name)?.name ?? null);
    return own === null || check.measure.type === 'number' ? own : `CASE ${own} WHEN TRUE THEN ${number(true)} WHEN FALSE THEN ${number(false)} END`;
  };
  const limit = (check: CheckPlan): string | null => {
    if (check.comparator === 'must_be') return number(check.alternatives[0]!.check.must_be === 'yes');
    return column(check, 'limit');
  };
  const columns = [
    constants('limit_set', (check) => setOf.get(check.check)!),
    constants('check', ({ check }) => check),
    constants('title', ({ title }) => title),
    constants('measure', ({ measure }) => measure.measure.measure),
    each('value', dialect.double, value),
    constants('unit_of_value', ({ measure }) => measure.measure.unit),
    constants('comparator', ({ comparator }) => comparator),
    each('limit', dialect.double, limit),
    each('limit_high', dialect.double, (check) => column(check, 'limit_high')),
    each('verdict', dialect.text, (check) => column(check, 'verdict')),
    each('share_of_limit', dialect.double, (check) => column(check, 'share')),
    each('chance_within_limit', dialect.double, (check) => column(check, 'chance')),
    each('reason', dialect.text, (check) => column(check, 'reason')),
    ofSource('citation', ({ check }) => check.source.citation),
    ofSource('status', ({ check }) => check.source.status),
    ofSource('severity', ({ check }) => check.severity ?? null),
  ];
  const numbers = plan.checks.map((_, index) => `(${index + 1})`).join(', ');
  return `SELECT * FROM (
SELECT
${[...OF_INSPECTION.map((name) => dialect.identifier(name)), ...columns].map((text) => `  ${text}`).join(',\n')}
FROM ${inspections} CROSS JOIN (VALUES ${numbers}) AS each_check(${CHECK_NUMBER})
) AS every_check
WHERE ${dialect.identifier('verdict')} IS NOT NULL`;
}

/** A text of the alternative that applied; of the first where none tells. */
function byAlternative({ alternatives }: CheckPlan, of: (alternative: AlternativePlan) => string | null, applied: string | null, dialect: SqlDialect): string | null {
  const texts = alternatives.map(of);
  const quoted = texts.map((text) => (text === null ? null : dialect.quote(text)));
  if (applied === null || new Set(texts).size === 1) return quoted[0]!;
  return `CASE ${applied} ${quoted.flatMap((text, index) => (text === null ? [] : [`WHEN ${index + 1} THEN ${text}`])).join(' ')} END`;
}
