import { expect, expectTypeOf, it } from 'vitest';
import type { z } from 'zod';
import type { BaselineComparison } from '../../src/fleet/baseline-comparison.js';
import { compareFleets } from '../../src/fleet/compare-fleets.js';
import { evaluationSchema } from '../../src/fleet/evaluation-schema.js';
import type { FleetFigures } from '../../src/fleet/fleet-figures.js';
import type { FleetMedians } from '../../src/fleet/fleet-medians.js';
import type { FleetSummary } from '../../src/fleet/summary.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { textOf } from '../workbook/bytes-of.js';

type Json = z.output<typeof evaluationSchema>;
type Plain<T> = T extends object ? { -readonly [K in keyof T]: Plain<T[K]> } : T;

it('has the form of the summary, field by field', async () => {
  expectTypeOf<Plain<Pick<FleetSummary, 'period' | 'counted_to' | 'trend' | 'fail_rates' | 'priors' | 'open_work'>>>().toEqualTypeOf<Plain<Pick<Json, 'period' | 'counted_to' | 'trend' | 'fail_rates' | 'priors' | 'open_work'>>>();
  expectTypeOf<Plain<FleetFigures & FleetMedians>>().toEqualTypeOf<Plain<Json['fleet']>>();
  expectTypeOf<Plain<BaselineComparison>>().toEqualTypeOf<Plain<NonNullable<Json['baseline']>>>();
  expectTypeOf<Json['units'][number]>().toExtend<FleetSummary['units'][number]>();
  const fleet = await evaluateReadings('samples/invented-fleet.csv');
  const { error, data } = evaluationSchema.safeParse(JSON.parse(await textOf(evaluationJson(fleet))));
  expect(error).toBeUndefined();
  const { units, trend, fail_rates, priors, open_work } = fleet.summary;
  expect(data).toMatchObject(JSON.parse(JSON.stringify({ units, trend, fail_rates, priors, open_work })) as object);
});

it('takes a baseline, and refuses what it does not know', async () => {
  const fleet = await evaluateReadings('samples/invented-fleet.csv');
  const json = JSON.parse(await textOf(evaluationJson(fleet))) as Record<string, unknown>;
  const baseline = compareFleets(fleet, fleet);
  expect(evaluationSchema.safeParse({ ...json, baseline }).error).toBeUndefined();
  expect(evaluationSchema.safeParse({ ...json, baseline: { ...baseline, colour: 'red' } }).success).toBe(false);
  expect(evaluationSchema.safeParse({ ...json, baseline: null }).success).toBe(false);
  expect(evaluationSchema.safeParse({ ...json, months: [] }).success).toBe(false);
  const { fleet: _, ...without } = json;
  expect(evaluationSchema.safeParse(without).success).toBe(false);
});
