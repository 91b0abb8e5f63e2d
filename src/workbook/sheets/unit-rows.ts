import type { Evaluation } from '../../fleet/evaluation.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { fieldPosition } from '../../readings/dictionary.js';
import { LEAK_SHARE } from '../../limits/overall-trees.js';

/** Where the rows of one unit that matter stand among the rows of Readings: 1 is the first. Null where there is none. */
export interface UnitRows {
  /** The latest inspection with a date. */
  readonly latest: number | null;
  /** The latest with a share of a leak's limit. */
  readonly share: number | null;
  /** The latest at which a check failed that is still open, and its day. */
  readonly open: number | null;
  readonly openOn: string | null;
  /** Whether that inspection names the one that it repeats. */
  readonly openIsRetest: boolean;
  /** The day since which each check is open, in the order of {@link decidedChecks}. */
  readonly openSince: readonly (string | null)[];
}

/** A unit without any inspection. */
export const NO_ROWS: UnitRows = { latest: null, share: null, open: null, openOn: null, openIsRetest: false, openSince: [] };

/** The checks of a plan that can fail, in its order. */
export function decidedChecks(plan: LimitPlan): LimitPlan['checks'] {
  return plan.checks.filter(({ comparator }) => comparator !== 'no_number');
}

interface Dated {
  readonly position: number;
  readonly evaluation: Evaluation;
  readonly on: string;
}

/**
 * Finds the rows of every unit that the sheets Units and Open work point at. Inspections without a date take no part.
 *
 * @param to the last day that counts, `yyyy-mm-dd`; null for all
 * @returns by the unit in lower case
 */
export function unitRows(plan: LimitPlan, evaluations: readonly Evaluation[], to: string | null): Map<string, UnitRows> {
  const byUnit = new Map<string, Dated[]>();
  for (const [index, evaluation] of evaluations.entries()) {
    const { unit, inspected_on: on } = evaluation;
    if (unit === null || on === null || (to !== null && on > to)) continue;
    const rows = byUnit.get(unit.toLowerCase());
    const dated = { position: index + 1, evaluation, on };
    if (rows) rows.push(dated);
    else byUnit.set(unit.toLowerCase(), [dated]);
  }
  const checks = decidedChecks(plan).map(({ check }) => check);
  const shareAt = plan.columns.findIndex(({ id }) => id === LEAK_SHARE);
  const retestAt = fieldPosition(plan.dictionary, 'retest_of');
  const found = new Map<string, UnitRows>();
  const oneSet = plan.sets.length === 1;
  for (const [unit, rows] of byUnit) found.set(unit, rowsOf(rows.sort(byDate), { checks, oneSet, shareAt, retestAt }));
  return found;
}

function byDate(a: Dated, b: Dated): number {
  return a.on < b.on ? -1 : a.on > b.on ? 1 : a.position - b.position;
}

interface Sought {
  readonly checks: readonly string[];
  /** Whether the verdict of an inspection tells of every check that it fails. */
  readonly oneSet: boolean;
  readonly shareAt: number;
  readonly retestAt: number;
}

function rowsOf(rows: readonly Dated[], { checks, oneSet, shareAt, retestAt }: Sought): UnitRows {
  const open = new Map<string, { readonly since: string; last: Dated }>();
  for (const row of rows) {
    if (oneSet && open.size === 0 && row.evaluation.verdict !== 'fail') continue;
    for (const { check, verdict } of row.evaluation.checks) {
      if (verdict === 'pass') open.delete(check);
      if (verdict !== 'fail') continue;
      const before = open.get(check);
      if (before) before.last = row;
      else open.set(check, { since: row.on, last: row });
    }
  }
  const shown = rows.findLast((row) => [...open.values()].some(({ last }) => last === row));
  return {
    latest: rows.at(-1)?.position ?? null,
    share: rows.findLast(({ evaluation }) => typeof evaluation.computed[shareAt] === 'number')?.position ?? null,
    open: shown?.position ?? null,
    openOn: shown?.on ?? null,
    openIsRetest: (shown?.evaluation.inspection.values[retestAt] ?? null) !== null,
    openSince: checks.map((check) => open.get(check)?.since ?? null),
  };
}
