import { beforeEach, describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { CANADA_ANSWERS, CANADA_CONDITIONS, CANADA_EDGES } from '../published/edges-canada.js';
import { ELSEWHERE_ANSWERS, ELSEWHERE_CONDITIONS, ELSEWHERE_EDGES } from '../published/edges-elsewhere.js';
import { USA_ANSWERS, USA_CONDITIONS, USA_EDGES } from '../published/edges-usa.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { evaluateRows, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';
import { rowsOfEdge } from '../support/limit-edges.js';
import { requireOutside } from '../support/recalculate.js';
import { convertAllByLibreOffice } from '../support/run-libreoffice.js';
import { readingsWorkbook } from './readings-workbook.js';

/** What no shipped set has: bands without their ends, severities that differ between alternatives, an unknown number, three routes. */
const OWN = 'own';
const ownBands = (): LimitPlan => ownPlan({
  checks: [
    ...(['lower', 'upper', 'both'] as const).map((without_ends) => ({ check: `without_${without_ends}`, title: without_ends, measure: 'cut_in', between: [85, 100], without_ends, unit: 'psi', severity: 'minor', source: SOURCE })),
    { check: 'graded', title: 'Graded', measure: 'cut_out', when: 'vehicle_kind == "bus"', at_most: 125, unit: 'psi', severity: 'out of service', source: SOURCE },
    { check: 'graded', title: 'Graded', measure: 'cut_out', when: 'vehicle_kind == "truck"', at_most: 130, unit: 'psi', severity: 'advisory', source: SOURCE },
    { check: 'graded', title: 'Graded', measure: 'cut_out', at_most: 135, unit: 'psi', source: SOURCE },
    { check: 'unknown', title: 'Unknown', measure: 'buildup_time', no_number: 'not known', unit: 's', source: SOURCE },
    { check: 'route_a', title: 'A', measure: 'released_loss', at_most: 2, unit: 'psi/min', either_of: 'routes', severity: 'dangerous', source: SOURCE },
    { check: 'route_b', title: 'B', measure: 'applied_loss', at_most: 3, unit: 'psi/min', either_of: 'routes', severity: 'advisory', source: SOURCE },
    { check: 'route_c', title: 'C', measure: 'reserve_share', between: [0.7, 0.9], unit: 'share', either_of: 'routes', source: SOURCE },
  ],
  conditions: [{ checks: ['route_a'], recheck_when: 'released_time < 60', say: 'too short', source: SOURCE }],
});
const LOSSES = [undefined, 1, 5].flatMap((released) => [undefined, 1, 5].flatMap((applied) => [undefined, 60, 80].map((reserve): Row => ({
  ...(released === undefined ? {} : { released_primary_start: 100, released_primary_end: 100 - released, released_time: reserve === 60 && applied === 5 ? '30 s' : '60 s' }),
  ...(applied === undefined ? {} : { applied_secondary_start: 100, applied_secondary_end: 100 - applied, applied_time: '60 s' }),
  ...(reserve === undefined ? {} : { reserve_before: 100, reserve_after: reserve }),
}))));
const OWN_ROWS: readonly Row[] = [
  ...[84.9, 85, 90, 100, 100.1].map((cut_in): Row => ({ cut_in, buildup_time: '40 s' })),
  ...[null, 'bus', 'truck', 'trailer'].flatMap((vehicle_kind) => [124, 126, 131, 136].map((cut_out): Row => ({ vehicle_kind, cut_out, cut_in: 90 }))),
  ...LOSSES,
];

/** The rows of every edge, answer and condition of a set. */
function rowsOf(set: string): Row[] {
  const own = <T extends { readonly set: string }>(cases: readonly T[]): T[] => cases.filter((one) => one.set === set);
  return [
    {},
    ...own([...USA_EDGES, ...CANADA_EDGES, ...ELSEWHERE_EDGES]).flatMap(rowsOfEdge),
    ...own([...USA_ANSWERS, ...CANADA_ANSWERS, ...ELSEWHERE_ANSWERS, ...USA_CONDITIONS, ...CANADA_CONDITIONS, ...ELSEWHERE_CONDITIONS]).flatMap(({ rows }) => rows.map(([row]) => row)),
  ];
}

// The outside source of every expected value is LibreOffice, which computes a twin of each workbook that holds no results.
describe('every shipped set, as LibreOffice computes it', { timeout: 600_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  it('gives the verdicts, limits, shares, chances and words that are stored, at every edge and condition', async () => {
    const evaluated = new Map<string, readonly Evaluation[]>();
    const twins = new Map<string, Uint8Array>();
    for (const id of limitSetIds()) {
      evaluated.set(id, await evaluateRows(shippedPlan(id), rowsOf(id)));
      twins.set(`${id}.xlsx`, await readingsWorkbook(shippedPlan(id), evaluated.get(id)!, true));
    }
    evaluated.set(OWN, await evaluateRows(ownBands(), OWN_ROWS));
    twins.set(`${OWN}.xlsx`, await readingsWorkbook(ownBands(), evaluated.get(OWN)!, true));
    const recalculated = await convertAllByLibreOffice(twins, 'xlsx');
    for (const [id, evaluations] of evaluated) {
      const plan = id === OWN ? ownBands() : shippedPlan(id);
      const { compared, differences } = await compareWith(await readingsWorkbook(plan, evaluations), recalculated.get(`${id}.xlsx`));
      expect([id, differences]).toStrictEqual([id, []]);
      expect(compared).toBeGreaterThanOrEqual(evaluations.length * plan.columns.length);
    }
  });
});
