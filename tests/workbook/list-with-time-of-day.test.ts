import { expect, test } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';

test('a time of day in a list of tests stays a column of the office, and never becomes the time of a test', async () => {
  const lines = ['unit,date,test,circuit,start,end,minutes,time', 'K-1,2026-03-04,applied,primary,110,100,1,8:30', 'K-1,2026-03-04,released,primary,110,109,1,8:30'];
  const fleet = await evaluateReadings(new TextEncoder().encode(lines.join('\n')), { format: 'csv' });
  const value = (field: string): unknown => fleet.evaluations[0]!.inspection.values[fleet.plan.dictionary.position.get(field)!] ?? null;
  expect(value('applied_time')).toBe(60);
  expect(fleet.evaluations[0]!.checks.find(({ check }) => check === 'applied_loss')!.verdict).toBe('fail');
});
