import { beforeEach, describe, expect, it } from 'vitest';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { evaluateRows, shippedPlan, type Row } from '../support/evaluate-rows.js';
import { recalculate, requireOutside } from '../support/recalculate.js';
import { everyMeasureSet } from './every-measure-set.js';
import { readingsWorkbook } from './readings-workbook.js';
import { WHERE_TO_LOOK_CASES } from './where-to-look-cases.js';

/** Numbers in [0, 1) that look random and are the same every time (Park and Miller, CACM 31 (1988) 1192). */
function* parkMiller(seed: number): Generator<number, never> {
  for (let state = seed; ; ) {
    state = (state * 16807) % 2147483647;
    yield state / 2147483647;
  }
}

function randomRows(count: number, seed: number): Row[] {
  const random = parkMiller(seed);
  const next = (): number => random.next().value;
  const pick = <T extends number | string | null>(...choices: readonly T[]): T => choices[Math.floor(next() * choices.length)]!;
  const maybe = (share: number, row: () => Row): Row => (next() < share ? row() : {});
  const loss = (): number => pick(0, 0.5, 1, 2, 2, 3, 3, 4, 8, 8, -1, Math.round(next() * 80) / 10);
  const pressure = (psi: number): number => Math.round(psi * 10) / 10;
  const test = (name: string): Row => ({
    ...maybe(0.9, () => ({ [`${name}_primary_start`]: 110, [`${name}_primary_end`]: next() < 0.03 ? 'low' : pressure(110 - loss()) })),
    ...maybe(0.85, () => ({ [`${name}_secondary_start`]: 110, [`${name}_secondary_end`]: pressure(110 - loss()) })),
    [`${name}_time`]: pick<number | string>('1:00', '1:00', '1:00', '2:00', '0:30', 90),
  });
  const signal = (): number | string => pick<number | string>('never', 40, 55, 60, 65, 70);
  return Array.from({ length: count }, () => ({
    vehicles: pick(null, 1, 2, 3),
    pressure_unit: pick(null, null, 'psi', 'kPa'),
    readable_to: pick(null, 1, 3),
    ...maybe(0.85, () => test('released')),
    ...maybe(0.75, () => test('applied')),
    ...maybe(0.6, () => ({ light_on_at: signal() })),
    ...maybe(0.6, () => ({ buzzer_on_at: signal() })),
    ...maybe(0.6, () => ({ buildup_from: 85, buildup_to: 100, buildup_time: pick('0:40', '1:20', '6:00') })),
    ...maybe(0.5, () => ({ cut_in: pick(75, 80, 100, 112), cut_out: pick(95, 105, 120, 135, 140) })),
    ...maybe(0.4, () => ({ parking_valve_closes_at: pick(10, 20, 45, 46), trailer_valve_closes_at: pick(19.9, 30, 50) })),
    ...maybe(0.3, () => ({ reserve_before: 100, reserve_after: pick(70, 75, 80, 101) })),
  }));
}

// The outside source of every expected value is LibreOffice, which computes a twin of the workbook that holds no results.
describe('circuits and where to look first, as LibreOffice computes them', { timeout: 180_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  it.each<[string, () => LimitPlan, number]>([
    ['common-practice', () => shippedPlan('common-practice'), 1],
    ['us-driver-licence-manual', () => shippedPlan('us-driver-licence-manual'), 2],
    ['a set that checks every measure', everyMeasureSet, 3],
  ])('%s', async (_name, planOf, seed) => {
    const plan = planOf();
    const worked = WHERE_TO_LOOK_CASES.map(([, row]) => row).filter((row) => Object.keys(row).every((name) => plan.dictionary.position.has(name)));
    const evaluations = await evaluateRows(plan, [...worked, ...randomRows(120, seed)]);
    const { compared, differences } = await compareWithRecalculation(await readingsWorkbook(plan, evaluations), await readingsWorkbook(plan, evaluations, true));
    expect(differences).toStrictEqual([]);
    expect(compared).toBe(evaluations.length * plan.columns.length);
    // The rows reach what they are for: every verdict of a circuit, and every rule.
    const values = (name: string): unknown[] => evaluations.map(({ computed }) => computed[plan.columns.findIndex((column) => column.name === `computed.${name}`)]);
    expect(new Set(values('primary_circuit_verdict'))).toStrictEqual(new Set(['pass', 'fail', 'recheck', 'not tested']));
    const said = values('where_to_look').filter((text) => text !== null) as string[];
    expect(plan.likelyPlaces.filter(({ place }) => !said.some((text) => text.includes(place.say))).map(({ place }) => place.id)).toStrictEqual([]);
  });

  it('leave a row without entries blank', async () => {
    const rows = (await recalculate(await readingsWorkbook(everyMeasureSet(), null, true))).get('Readings')!;
    const names = rows[2]!;
    expect(names.filter((name) => name.startsWith('computed.')).length).toBe(everyMeasureSet().columns.length);
    for (const row of rows.slice(3)) expect(row.filter((cell, index) => names[index]!.startsWith('computed.') && cell !== '')).toStrictEqual([]);
    expect(rows.length).toBeGreaterThanOrEqual(6);
  });
});
