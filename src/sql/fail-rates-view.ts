import type { SqlDialect } from '../expressions/sql-dialect.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { OVERALL_VERDICT } from '../limits/overall-trees.js';
import { Z_95 } from '../statistics/wilson-interval.js';
import { shortName } from './short-name.js';
import type { UnitSources } from './units-view.js';

/**
 * The query of the view `fail_rates`: one row for each group, with the 95 % interval of Wilson (1927). Names are the same in small
 * and capital letters.
 */
export function failRatesQuery(plan: LimitPlan, { inspections, checks }: UnitSources, dialect: SqlDialect): string {
  const columnOf = (id: string): string => dialect.identifier(shortName(plan.columns.find((column) => column.id === id)!.name, dialect));
  const verdict = columnOf(OVERALL_VERDICT);
  const name = (text: string): string => dialect.identifier(text);
  const counted = plan.checks.filter(({ comparator }) => comparator !== 'no_number').map(({ check }) => dialect.quote(check));
  const from = (group: string, of: string, result = verdict): string => `SELECT ${dialect.quote(group)} AS group_of, ${of} AS name_of, ${result} AS verdict FROM evaluated`;
  const several = plan.sets.length > 1;
  const sources = [
    ...(counted.length === 0 ? [] : [`SELECT 'check' AS group_of, title AS name_of, verdict FROM ${checks} WHERE ${name('check')} IN (${counted.join(', ')})`]),
    ...plan.circuits.map(({ title, column }) => from('circuit', dialect.quote(title), columnOf(column))),
    from('site', name('site')),
    from('vehicle_kind', name('vehicle_kind')),
    from('inspector', name('inspector')),
    ...plan.sets.map(({ set, column }) => from('limit_set', dialect.quote(set.title), several ? columnOf(column) : verdict)),
    from('month', dialect.month(name('inspected_on'))),
  ];
  const z = dialect.number(Z_95);
  const number = dialect.number;
  const isTested = "verdict IN ('pass', 'fail')";
  const needed = new Set([verdict, ...plan.circuits.map(({ column }) => columnOf(column)), ...(several ? plan.sets.map(({ column }) => columnOf(column)) : []), ...['inspected_on', 'site', 'vehicle_kind', 'inspector'].map(name)]);
  return `WITH
evaluated AS (
SELECT ${[...needed].join(', ')} FROM ${inspections}
),
of_group AS (
${sources.join('\nUNION ALL\n')}
),
counts AS (
SELECT group_of, min(name_of) AS name_of, sum(CASE WHEN ${isTested} THEN 1 ELSE 0 END) AS tested,
  sum(CASE WHEN verdict = 'fail' THEN 1 ELSE 0 END) AS failed, sum(CASE WHEN verdict = 'recheck' THEN 1 ELSE 0 END) AS recheck
FROM of_group WHERE name_of IS NOT NULL AND verdict IS NOT NULL GROUP BY group_of, lower(name_of)
),
rates AS (
SELECT counts.*, CAST(failed AS ${dialect.double}) / nullif(tested, 0) AS rate, CAST(nullif(tested, 0) AS ${dialect.double}) AS n FROM counts
),
intervals AS (
SELECT rates.*, (rate + ${z} * ${z} / n / ${number(2)}) / (${number(1)} + ${z} * ${z} / n) AS centre,
  (${z} * sqrt(rate * (${number(1)} - rate) / n + ${z} * ${z} / n / (${number(4)} * n))) / (${number(1)} + ${z} * ${z} / n) AS half
FROM rates
)
SELECT group_of AS ${name('group')}, name_of AS ${name('name')}, tested, failed, recheck, rate,
  CASE WHEN failed = 0 AND tested > 0 THEN ${number(0)} WHEN rate IS NOT NULL THEN greatest(${number(0)}, centre - half) END AS ${name('low')},
  CASE WHEN failed = tested AND tested > 0 THEN ${number(1)} WHEN rate IS NOT NULL THEN least(${number(1)}, centre + half) END AS ${name('high')}
FROM intervals`;
}
