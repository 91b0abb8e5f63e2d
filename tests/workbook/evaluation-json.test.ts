import { expect, it } from 'vitest';
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
