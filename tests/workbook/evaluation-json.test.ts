import { expect, it } from 'vitest';
import { compareFleets } from '../../src/fleet/compare-fleets.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson, inspectionJson } from '../../src/workbook/evaluation-json.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf, textOf } from './bytes-of.js';

it('the same input gives the same JSON and the same workbook, however often', { timeout: 30_000 }, async () => {
  const fleets = await Promise.all(Array.from({ length: 4 }, () => evaluateReadings('samples/invented-fleet.csv')));
  const [first, ...others] = await Promise.all(fleets.map((fleet) => textOf(evaluationJson(fleet))));
  for (const other of others) expect(other === first).toBe(true);
  const [book, again] = await Promise.all(fleets.slice(0, 2).map((fleet) => bytesOf(workbookOf(fleet))));
  expect(Buffer.from(book!).equals(Buffer.from(again!))).toBe(true);
});

it('JSON holds one line for each inspection, as inspectionJson gives it', async () => {
  const fleet = await evaluateReadings('samples/invented-fleet-messy.csv');
  const lines = (await textOf(evaluationJson(fleet))).split('\n').slice(1, -2);
  expect(lines.map((line) => JSON.parse(line.replace(/,$/, '')) as unknown)).toStrictEqual(fleet.evaluations.map((evaluation) => JSON.parse(JSON.stringify(inspectionJson(evaluation))) as unknown));
});

it('JSON holds the summary after the inspections, and a baseline where there is one', async () => {
  const fleet = await evaluateReadings('samples/invented-fleet.csv');
  const keys = ['format', 'version', 'limit_set', 'limit_sets', 'source', 'inspections', 'period', 'counted_to', 'units', 'trend', 'fail_rates', 'priors', 'open_work', 'fleet'];
  const parsed = async (more: object): Promise<Record<string, unknown>> => JSON.parse(await textOf(evaluationJson({ ...fleet, ...more }))) as Record<string, unknown>;
  const plain = await parsed({});
  expect(Object.keys(plain)).toStrictEqual([...keys, 'problems']);
  for (const [name, value] of Object.entries(fleet.summary)) expect([name, plain[name]]).toStrictEqual([name, JSON.parse(JSON.stringify(value))]);
  expect(await parsed({ baseline: null })).toStrictEqual(plain);
  const baseline = compareFleets(fleet, fleet);
  const beside = await parsed({ baseline });
  expect(Object.keys(beside)).toStrictEqual([...keys, 'baseline', 'problems']);
  expect(beside['baseline']).toStrictEqual(JSON.parse(JSON.stringify(baseline)));
});
