import { afterAll, describe, expect, it } from 'vitest';
import { FleetSummariser } from '../../src/fleet/fleet-summariser.js';
import type { Value } from '../../src/expressions/value.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetOf } from '../../src/limits/limit-set-of.js';
import { openEngine, type SqlEngine } from '../support/sql-engines.js';
import { evaluated, isSame, loadRows } from './evaluate-in-sql.js';
import { randomRows } from './random-inspections.js';

const SEED = 20_260_602;
const ROWS = 240;
const SETS = ['us-driver-licence-manual', 'us-nevada,us-new-hampshire'];

type Row = Readonly<Record<string, unknown>>;

/** The cells of rows that a database has otherwise than the program, of the columns that the program names. */
function differing(expected: readonly Readonly<Record<string, Value>>[], found: readonly Row[]): unknown[] {
  expect(found.length).toBe(expected.length);
  return expected.flatMap((row, index) => Object.entries(row).flatMap(([column, value]) => (isSame(column.includes('_slope_') ? toDecimals(value) : value, column.includes('_slope_') ? toDecimals(numbered(found[index]![column])) : numbered(found[index]![column])) ? [] : [{ index, column, program: value, sql: found[index]![column] }])));
}

/** Whole numbers of 64 bits come as texts from DuckDB. */
function numbered(value: unknown): unknown {
  return typeof value === 'string' && /^\d{1,6}$/.test(value) ? Number(value) : value;
}

/** The program keeps 9 decimals of a loss, so a slope per 90 days is the same to six. */
function toDecimals<T>(value: T): T | number {
  return typeof value === 'number' ? Math.round(value * 1e6) / 1e6 : value;
}

const yesNo = (value: Value): Value => (typeof value === 'boolean' ? Number(value) : value);

describe.each(['duckdb', 'postgres'] as const)('the views in %s', (name) => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());

  it.for(SETS)('say what the program says: %s', { timeout: 120_000 }, async (id, context) => {
    const database = await (engine ??= openEngine(name, context));
    const plan = compileLimitSet(limitSetOf(id));
    // Repairs would begin the course of a loss anew, which the view does not.
    const rows = randomRows(plan, ROWS, SEED).map((row) => new Map([...row, ['repaired_on', null]]));
    await loadRows(database, plan, rows, 'all');
    const evaluations = evaluated(plan, rows);

    const checks = evaluations.flatMap(({ inspection_id, inspected_on, unit, checks: results }) =>
      results.map((result) => {
        const [low, high] = Array.isArray(result.limit) ? (result.limit as [number, number]) : [result.limit as Value, null];
        const { limit_set, check, measure, comparator, verdict, share_of_limit, chance_within_limit, reason, citation, status, severity } = result;
        return { inspection_id, inspected_on, unit, limit_set, check, measure, value: yesNo(result.value), unit_of_value: result.unit, comparator, limit: low === 'yes' ? 1 : low === 'no' ? 0 : low, limit_high: high, verdict, share_of_limit, chance_within_limit, reason, citation, status, severity };
      }),
    );
    const byCheck = (a: Row, b: Row): number => String(a['inspection_id']).localeCompare(String(b['inspection_id'])) || String(a['check']).localeCompare(String(b['check']));
    const isBand = (row: Row): boolean => row['comparator'] === 'between' && (row['limit'] === null || row['limit_high'] === null);
    const found = (await database.rows('SELECT * FROM checks')).sort(byCheck);
    expect(differing(checks.filter((row) => !isBand(row)).sort(byCheck), found.filter((row) => !isBand(row))).slice(0, 5)).toStrictEqual([]);
    expect(checks.length).toBeGreaterThan(ROWS);

    const summariser = new FleetSummariser(plan);
    for (const evaluation of evaluations) summariser.add(evaluation);
    const { units, fail_rates: rates } = summariser.result();
    const unitRows = units.map((unit) => {
      const { vehicle_kind, site, inspections, failed, latest_on, latest_verdict, latest_released_loss, latest_applied_loss, share_now, share_now_on, worst_released_loss, worst_applied_loss, worst_share, open_since } = unit;
      const slopes = Object.fromEntries(unit.trends.filter(({ measure }) => measure === 'released_loss' || measure === 'applied_loss').map((trend) => [`${trend.measure}_slope_per_90_days`, trend.slope_per_90_days]));
      return { unit: unit.unit, vehicle_kind, site, inspections, failed, latest_on, latest_verdict, latest_released_loss, latest_applied_loss, share_now, share_now_on, worst_released_loss, worst_applied_loss, worst_share, open_checks: unit.open_checks.length, open_since, ...slopes };
    });
    const byUnit = (a: Row, b: Row): number => String(a['unit']).localeCompare(String(b['unit']));
    expect(differing(unitRows.sort(byUnit), (await database.rows('SELECT * FROM units')).sort(byUnit)).slice(0, 8)).toStrictEqual([]);
    expect(unitRows.filter((row: Row) => typeof row['released_loss_slope_per_90_days'] === 'number').length).toBeGreaterThan(3);

    const byGroup = (a: Row, b: Row): number => String(a['group']).localeCompare(String(b['group'])) || String(a['name']).localeCompare(String(b['name']));
    // A check that applied to no inspection, and a month without one, have no row.
    const groups = rates.filter(({ group, tested, recheck }) => group !== 'period' && (group !== 'check' || tested + recheck > 0)).map(({ group, name: of, tested, failed, recheck, rate, low, high }) => ({ group, name: of, tested, failed, recheck, rate, low, high }));
    const counted = (await database.rows('SELECT * FROM fail_rates')).filter((row) => row['group'] !== 'month' && (row['group'] !== 'check' || Number(row['tested']) + Number(row['recheck']) > 0));
    expect(differing(groups.sort(byGroup), counted.sort(byGroup)).slice(0, 8)).toStrictEqual([]);
    const months = await database.rows(`SELECT sum(tested) AS tested, sum(failed) AS failed FROM fail_rates WHERE "group" = 'month' AND name BETWEEN '2025-01' AND '2026-12'`);
    const decided = evaluations.filter(({ verdict }) => verdict === 'pass' || verdict === 'fail');
    expect(months.map(({ tested, failed }) => [Number(tested), Number(failed)])).toStrictEqual([[decided.length, decided.filter(({ verdict }) => verdict === 'fail').length]]);
  });
});
