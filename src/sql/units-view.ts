import type { SqlDialect } from '../expressions/sql-dialect.js';
import { rankedLosses, type RankedLoss } from '../fleet/ranked-losses.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { LEAK_SHARE, OVERALL_VERDICT } from '../limits/overall-trees.js';
import { shortName } from './short-name.js';

/** The losses that are told of each unit, where the limit set knows them. */
const LOSSES = ['released_loss', 'applied_loss'] as const;
/** Fewest days for a slope, and the days that it is told for. */
const LEAST_DAYS = 5;
const SLOPE_DAYS = 90;

/** The names of the views that `units` reads. */
export interface UnitSources {
  readonly inspections: string;
  readonly checks: string;
}

/**
 * The query of the view `units`: one row for each unit. Inspections stand in the order of their days, those of one day in that of
 * their numbers. Names of units are the same in small and capital letters.
 */
export function unitsQuery(plan: LimitPlan, { inspections, checks }: UnitSources, dialect: SqlDialect): string {
  const columnOf = (id: string): string | null => {
    const found = plan.columns.find((column) => column.id === id);
    return found === undefined ? null : dialect.identifier(shortName(found.name, dialect));
  };
  const blank = `CAST(NULL AS ${dialect.double})`;
  const losses = LOSSES.map((loss) => ({ loss, column: columnOf(`measure:${loss}`) ?? blank }));
  const name = (text: string): string => dialect.identifier(text);
  const order = `${name('inspected_on')} DESC NULLS LAST, ${name('inspection_id')} DESC NULLS LAST`;
  const latest = (column: string): string => `max(CASE WHEN from_latest = 1 AND ${name('inspected_on')} IS NOT NULL THEN ${column} END)`;
  const ranked = rankedLosses(plan);
  const slopes = LOSSES.map((loss) => slopeQuery(loss, valuesOf(ranked.find(({ measure }) => measure === loss), dialect), dialect)).join(',\n');
  return `WITH
of_unit AS (
SELECT lower(${name('unit')}) AS unit_key, ${['unit', 'inspection_id', 'inspected_on', 'vehicle_kind', 'site', 'repaired_on'].map(name).join(', ')},
  ${columnOf(OVERALL_VERDICT)} AS verdict, ${columnOf(LEAK_SHARE) ?? blank} AS leak_share, ${losses.map(({ loss, column }) => `${column} AS ${loss}`).join(', ')}
FROM ${inspections} WHERE ${name('unit')} IS NOT NULL
),
in_order AS (
SELECT of_unit.*, row_number() OVER (PARTITION BY unit_key ORDER BY ${order}) AS from_latest,
  row_number() OVER (PARTITION BY unit_key ORDER BY CASE WHEN leak_share IS NULL THEN 1 ELSE 0 END, ${order}) AS from_latest_share
FROM of_unit
),
summary AS (
SELECT unit_key, min(${name('unit')}) AS ${name('unit')}, ${latest(name('vehicle_kind'))} AS vehicle_kind, ${latest(name('site'))} AS site,
  count(*) AS inspections, sum(CASE WHEN verdict = 'fail' THEN 1 ELSE 0 END) AS failed, max(${name('inspected_on')}) AS latest_on, ${latest('verdict')} AS latest_verdict,
  ${losses.map(({ loss }) => `${latest(loss)} AS latest_${loss}`).join(', ')},
  max(CASE WHEN from_latest_share = 1 AND ${name('inspected_on')} IS NOT NULL THEN leak_share END) AS share_now,
  max(CASE WHEN from_latest_share = 1 AND leak_share IS NOT NULL THEN ${name('inspected_on')} END) AS share_now_on,
  ${losses.map(({ loss }) => `max(${loss}) AS worst_${loss}`).join(', ')}, max(leak_share) AS worst_share, max(${name('repaired_on')}) AS last_repair_on
FROM in_order GROUP BY unit_key
),
decided AS (
SELECT lower(${name('unit')}) AS unit_key, ${name('check')} AS check_name, title, verdict, ${name('inspected_on')}, ${name('value')} AS loss,
  row_number() OVER (PARTITION BY lower(${name('unit')}), ${name('check')} ORDER BY ${name('inspected_on')}, ${name('inspection_id')} NULLS FIRST) AS place
FROM ${checks} WHERE ${name('unit')} IS NOT NULL AND ${name('inspected_on')} IS NOT NULL AND verdict IN ('pass', 'fail')
),
since_pass AS (
SELECT decided.*, max(CASE WHEN verdict = 'pass' THEN place ELSE 0 END) OVER (PARTITION BY unit_key, check_name) AS last_pass FROM decided
),
open_checks AS (
SELECT unit_key, check_name, title, min(${name('inspected_on')}) AS since FROM since_pass WHERE place > last_pass GROUP BY unit_key, check_name, title
),
open_failures AS (
SELECT unit_key, count(*) AS open_checks, ${dialect.listed('title', 'title')} AS open_titles, min(since) AS open_since FROM open_checks GROUP BY unit_key
),
${slopes}
SELECT summary.${name('unit')}, vehicle_kind, site, inspections, failed, latest_on, latest_verdict,
  ${LOSSES.map((loss) => `latest_${loss}`).join(', ')}, share_now, share_now_on, ${LOSSES.map((loss) => `worst_${loss}`).join(', ')}, worst_share,
  coalesce(open_checks, 0) AS open_checks, open_titles, open_since, last_repair_on,
  ${LOSSES.map((loss) => `slope_of_${loss}.slope AS ${loss}_slope_per_${SLOPE_DAYS}_days`).join(', ')}
FROM summary LEFT JOIN open_failures ON open_failures.unit_key = summary.unit_key
${LOSSES.map((loss) => `LEFT JOIN slope_of_${loss} ON slope_of_${loss}.unit_key = summary.unit_key`).join('\n')}`;
}

/** The losses that the course of a unit is told by: those that their check decided, where there is a check; none of a loss that the set does not know. */
function valuesOf(loss: RankedLoss | undefined, dialect: SqlDialect): string {
  const on = dialect.identifier('inspected_on');
  if (loss === undefined) return `SELECT unit_key, ${on}, loss FROM decided WHERE FALSE`;
  if (loss.check === null) return `SELECT unit_key, ${on}, ${loss.measure} AS loss FROM of_unit`;
  return `SELECT unit_key, ${on}, loss FROM decided WHERE check_name = ${dialect.quote(loss.check)}`;
}

/** The median of the slopes between every two days of a unit (Theil-Sen), of the median loss of each day; from five days on. */
function slopeQuery(loss: string, values: string, dialect: SqlDialect): string {
  const median = (column: string): string => `percentile_cont(0.5) WITHIN GROUP (ORDER BY ${column})`;
  const on = dialect.identifier('inspected_on');
  return `values_of_${loss} AS (
${values}
),
days_of_${loss} AS (
SELECT unit_key, ${on}, ${median('loss')} AS loss, count(*) OVER (PARTITION BY unit_key) AS days
FROM values_of_${loss} WHERE loss IS NOT NULL AND ${on} IS NOT NULL GROUP BY unit_key, ${on}
),
slope_of_${loss} AS (
SELECT a.unit_key, ${dialect.number(SLOPE_DAYS)} * ${median(`(b.loss - a.loss) / ${dialect.daysBetween(`a.${on}`, `b.${on}`)}`)} AS slope
FROM days_of_${loss} AS a JOIN days_of_${loss} AS b ON a.unit_key = b.unit_key AND a.${on} < b.${on}
WHERE a.days >= ${LEAST_DAYS} GROUP BY a.unit_key
)`;
}
