import { beforeEach, expect, test } from 'vitest';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRow, shippedPlan } from '../support/evaluate-rows.js';

let plan: LimitPlan;
beforeEach(() => {
  plan = shippedPlan('common-practice');
});

const GOOD = {
  released_primary_start: '110',
  released_primary_end: '109',
  released_secondary_start: '110',
  released_secondary_end: '109',
  released_time: '1:00',
  applied_primary_start: '108',
  applied_primary_end: '107',
  applied_time: '1:00',
  light_on_at: '70',
  buzzer_on_at: '70',
  buildup_time: '3:00',
};

test('the good row passes', async () => {
  expect((await evaluateRow(plan, GOOD)).verdict).toBe('pass');
});

test.each([
  ['a light that cannot be read beside a good buzzer', { light_on_at: 'abc' }, 'Not understood: [Light on at]'],
  ['an end that cannot be read beside a good circuit', { released_primary_end: 'about a hundred' }, 'primary start reading but no end'],
  ['an end left blank beside a good circuit', { released_secondary_end: null }, 'secondary start reading but no end'],
  ['a number of vehicles in words', { vehicles: 'two' }, 'Not understood: [Vehicles in combination]'],
])('%s does not pass', async (_, change, words) => {
  const { verdict, reason } = await evaluateRow(plan, { ...GOOD, ...change });
  expect(verdict).toBe('recheck');
  expect(reason).toContain(words);
});

test.each(['us-nevada', 'us-new-hampshire', 'us-driver-licence-manual'])('no vehicle at all is judged as one by %s', async (id) => {
  const { checks } = await evaluateRow(shippedPlan(id), { ...GOOD, vehicles: '0', released_primary_end: '66' });
  expect(checks.find(({ check }) => check === 'released_loss')!.verdict).toBe('fail');
});
