import { describe, expect, test } from 'vitest';
import { DataQuality, type DataQuestion } from '../../src/fleet/data-quality.js';
import { digitsOf } from '../../src/fleet/expected-digits.js';
import { evaluateRows, shippedPlan, type Row } from '../support/evaluate-rows.js';

const plan = shippedPlan('common-practice');

async function questionsOf(rows: readonly Row[]): Promise<DataQuestion[]> {
  const quality = new DataQuality(plan);
  for (const evaluation of await evaluateRows(plan, rows)) quality.add(evaluation);
  return quality.questions();
}

const READINGS = { released_primary_start: '113', released_primary_end: '112', released_secondary_start: '111', released_secondary_end: '110', light_on_at: '68', buzzer_on_at: '67', cut_in: '98' };
const day = (index: number): string => new Date(Date.UTC(2026, 0, 1 + index)).toISOString().slice(0, 10);

describe('readings that repeat', () => {
  test('all pressures of one inspection are those of the one before', async () => {
    const questions = await questionsOf([
      { unit: 'T1', inspected_on: '2026-01-05', ...READINGS },
      { unit: 'T1', inspected_on: '2026-04-05', ...READINGS },
      { unit: 'T1', inspected_on: '2026-07-05', ...READINGS, cut_in: '97' },
    ]);
    expect(questions).toStrictEqual([{ kind: 'same readings again', about: 'T1', question: 'All 7 pressures of 2026-04-05 are those of 2026-01-05. Were they read anew?', rows: [2, 3] }]);
  });

  test('two units have the same pressures on one day; too few are no question', async () => {
    const few = { released_primary_start: '113', released_primary_end: '112' };
    const questions = await questionsOf([
      { unit: 'T1', inspected_on: '2026-01-05', ...READINGS },
      { unit: 'T2', inspected_on: '2026-01-05', ...READINGS },
      { unit: 'T3', inspected_on: '2026-01-05', ...few },
      { unit: 'T4', inspected_on: '2026-01-05', ...few },
    ]);
    expect(questions.map(({ kind, about, rows }) => [kind, about, rows])).toStrictEqual([['same readings on another unit', 'T1, T2', [2, 3]]]);
  });
});

describe('last digits', () => {
  // What digits a gauge can show is common practice, no source.
  test.each([
    ['psi', 1, null, 10],
    ['psi', 2, null, 5],
    ['kPa', 5, null, 2],
    ['bar', 0.1, null, 10],
    ['psi', 25, null, 10],
  ])('a gauge in %s with steps of %d can end in %d digits', (unit, step, readable, count) => {
    expect(digitsOf(unit, step, readable)!.possible).toHaveLength(count);
  });

  test.each([
    ['kPa', 10, null],
    ['kPa', 200, null],
    ['psi', 25, 8],
    ['psi', null, null],
  ])('a gauge in %s with steps of %s read to %s says nothing by its digits', (unit, step, readable) => {
    expect(digitsOf(unit, step, readable)).toBeNull();
  });

  const rowsOf = (inspector: string, step: string, reading: (index: number) => number): Row[] =>
    Array.from({ length: 80 }, (_, index) => ({ unit: `T${index}`, inspected_on: day(index), inspector, gauge_step: step, cut_in: String(reading(index)), cut_out: String(reading(index + 3) + 20) }));

  test('that pile up on 0 and 5 are asked about, with the numbers', async () => {
    const questions = await questionsOf(rowsOf('A. Example', '25', (index) => 90 + 5 * (index % 4)));
    expect(questions.map(({ kind, about }) => [kind, about])).toStrictEqual([['last digits', 'A. Example']]);
    // 160 readings, half of them ending in 0 and half in 5, against 16 of each digit: chi-squared 2 x 64^2 / 16 + 8 x 16 = 640.
    expect(questions[0]!.question).toContain('Of 160 readings on a dial with steps of 25 psi, 100.0 % end in 0 or 5, where about 20.0 % would be expected (chi-squared 640.0, 9 degrees of freedom');
  });

  test('spread over all digits, or on a gauge that shows no others, are no question', async () => {
    expect(await questionsOf(rowsOf('A. Example', '25', (index) => 90 + (index % 10)))).toStrictEqual([]);
    expect(await questionsOf(rowsOf('A. Example', '5', (index) => 90 + 5 * (index % 4)).map((row) => ({ ...row, pressure_unit: 'kPa' })))).toStrictEqual([]);
  });
});

test('tests that were stopped early are asked about', async () => {
  const questions = await questionsOf([
    { unit: 'T1', inspector: 'A. Example', released_time: '0:45', applied_time: '1:00' },
    { unit: 'T2', inspector: 'A. Example', released_time: '1:00' },
  ]);
  expect(questions).toStrictEqual([{ kind: 'short tests', about: 'A. Example', question: '1 of 3 loss tests were timed for less than a minute. Was there a reason to stop early?', rows: [2] }]);
});

test('an inspector whose fail rate lies outside the funnel is asked about, and one with few tests is not', async () => {
  const rows = (inspector: string, count: number, failed: number): Row[] =>
    Array.from({ length: count }, (_, index) => ({
      unit: `${inspector}${index}`,
      inspected_on: day(index),
      inspector,
      released_primary_start: '110',
      released_primary_end: index < failed ? '105' : '109',
      released_time: '1:00',
      applied_primary_start: '110',
      applied_primary_end: '109',
      applied_time: '1:00',
      light_on_at: String(65 + (index % 7)),
      buildup_time: `3:${10 + (index % 40)}`,
    }));
  // Around 38 of 205, SciPy 1.10: binom.sf(31, 100, 38/205) and binom.cdf(6, 100, 38/205) are both below 0.001.
  const questions = await questionsOf([...rows('A', 100, 6), ...rows('B', 100, 32), ...rows('C', 5, 0)]);
  expect(questions.map(({ kind, about }) => [kind, about])).toStrictEqual([
    ['fail rate', 'A'],
    ['fail rate', 'B'],
  ]);
  expect(questions[1]!.question).toContain('32 of 100 inspections failed (32.0 %), more than chance explains');
});
