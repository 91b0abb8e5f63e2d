import { describe, expect, test } from 'vitest';
import { DataQuality, type DataQuestion } from '../../src/fleet/data-quality.js';
import { digitsOf } from '../../src/fleet/expected-digits.js';
import { funnelLimit } from '../../src/statistics/funnel-limit.js';
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

describe('readings that repeat, and those that do not', () => {
  const at = (unit: string, inspected_on: string, more: Row = {}): Row => ({ unit, inspected_on, ...READINGS, ...more });
  const asked = async (...rows: readonly Row[]): Promise<unknown> => (await questionsOf(rows)).map(({ about, rows: places }) => [about, places]);

  test('go by the dates, not by the order of the table', async () => {
    expect(await asked(at('T1', '2026-07-05', { cut_in: '97' }), at('T1', '2026-04-05'), at('T1', '2026-01-05'))).toStrictEqual([['T1', [4, 3]]]);
    expect(await asked(at('T1', '2026-04-05'), at('T1', '2026-07-05', { cut_in: '97' }), at('T1', '2026-01-05'))).toStrictEqual([['T1', [4, 2]]]);
  });

  test('of several on one day go by the rows', async () => {
    expect(await asked(at('T1', '2026-01-05'), at('T1', '2026-04-05'), at('T1', '2026-04-05', { cut_in: '97' }), at('T1', '2026-07-05', { cut_in: '97' }))).toStrictEqual([['T1', [2, 3]], ['T1', [4, 5]]]);
  });

  test('of one unit on one day are no question', async () => {
    expect(await asked(at('T1', '2026-01-05'), at('t1', '2026-01-05'))).toStrictEqual([]);
  });

  test('of six pressures are one, of five none', async () => {
    const [six, five] = [{ cut_in: null }, { cut_in: null, buzzer_on_at: null }];
    expect(await asked(at('T1', '2026-01-05', six), at('T1', '2026-04-05', six))).toStrictEqual([['T1', [2, 3]]]);
    expect(await asked(at('T1', '2026-01-05', five), at('T1', '2026-04-05', five))).toStrictEqual([]);
    expect(await asked(at('T1', '2026-01-05', six), at('T2', '2026-01-05', six))).toStrictEqual([['T1, T2', [2, 3]]]);
  });

  test('on another unit are one on the same day only, and only if they are the same', async () => {
    expect(await asked(at('T1', '2026-01-05'), at('T2', '2026-01-06'))).toStrictEqual([]);
    expect(await asked(at('T1', '2026-01-05'), at('T2', '2026-01-05', { cut_in: '97' }))).toStrictEqual([]);
  });

  test('without a unit or a date are none', async () => {
    expect(await asked(at('', '2026-01-05'), at('', '2026-04-05'), at('T1', ''), at('T2', ''))).toStrictEqual([]);
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
    ['psi', 'fine', null],
    ['psi', 0, null],
    ['kPa', 3, null],
    ['psi', 1.5, null],
    ['bar', 0.03, null],
    ['psi', 25, 5],
    ['bar', 5, null],
  ])('a gauge in %s with steps of %s read to %s says nothing by its digits', (unit, step, readable) => {
    expect(digitsOf(unit, step, readable)).toBeNull();
  });

  test('a digital gauge shows the multiples of its step', () => {
    expect(digitsOf('psi', 2, null)).toStrictEqual({ possible: [0, 2, 4, 6, 8], grid: 1, gauge: 'a digital gauge with steps of 2 psi' });
    expect(digitsOf('bar', 0.1, null)).toStrictEqual({ possible: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9], grid: 0.1, gauge: 'a digital gauge with steps of 0.1 bar' });
    expect(digitsOf('bar', 0.5, null)).toStrictEqual({ possible: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9], grid: 0.1, gauge: 'a dial with steps of 0.5 bar' });
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

describe('last digits of an inspector', () => {
  /** One reading a row, each of a unit of its own. */
  const read = (inspector: string, readings: readonly number[], more: Row = {}): Row[] => readings.map((reading, index) => ({ unit: `${inspector}${index}`, inspected_on: day(index), inspector, gauge_step: '25', cut_in: String(reading), ...more }));
  const repeat = (digit: number, times: number): number[] => Array.from({ length: times }, () => 90 + digit);

  test('are asked about with the probability, where it is not below 0.0001', async () => {
    const digits = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].flatMap((digit) => repeat(digit, digit % 5 === 0 ? 24 : 9));
    // 12 of each expected: chi-squared 2 x 12^2 / 12 + 8 x 3^2 / 12 = 30; its tail with 9 degrees of freedom is
    // erfc(sqrt(15)) + sqrt(60 / pi) exp(-15) (1 + 10 + 60 + 30^3 / 105) = 0.00043872 (Abramowitz and Stegun, 26.4.4).
    expect((await questionsOf(read('A. Example', digits)))[0]!.question).toContain('Of 120 readings on a dial with steps of 25 psi, 40.0 % end in 0 or 5, where about 20.0 % would be expected (chi-squared 30.0, 9 degrees of freedom, p 0.0004)');
    expect((await questionsOf(read('A. Example', repeat(0, 160))))[0]).toMatchObject({ question: expect.stringContaining('9 degrees of freedom, p below 0.0001)') as string, rows: [] });
  });

  test('that pile up elsewhere, or are too few, are no question', async () => {
    expect(await questionsOf(read('A. Example', repeat(7, 160)))).toStrictEqual([]);
    expect(await questionsOf(read('A. Example', repeat(5, 3)))).toStrictEqual([]);
  });

  test('between the marks of the gauge do not count', async () => {
    expect(await questionsOf(read('A. Example', repeat(4.6, 160)))).toStrictEqual([]);
  });

  test('of a gauge that can be read to 8 psi only say nothing', async () => {
    expect(await questionsOf(read('A. Example', repeat(5, 160), { readable_to: '8' }))).toStrictEqual([]);
  });

  test('of two gauges are counted apart, in the units of each', async () => {
    const dial = read('A. Example', Array.from({ length: 160 }, (_, index) => 90 + (index % 10)));
    const digital = read('A. Example', Array.from({ length: 160 }, (_, index) => 600 + 5 * (index % 2)), { gauge_step: '5', pressure_unit: 'kPa' });
    expect(await questionsOf([...dial, ...digital])).toStrictEqual([]);
    const bars = read('A. Example', Array.from({ length: 160 }, (_, index) => 6 + 0.5 * (index % 2)), { gauge_step: '0.1', pressure_unit: 'bar' });
    expect((await questionsOf([...dial, ...bars])).map(({ question }) => question.slice(0, 91))).toStrictEqual(['Of 160 readings on a digital gauge with steps of 0.1 bar, 100.0 % end in 0 or 5, where abou']);
  });
});

test('an inspector is the same in small and capital letters, and only the first rows are shown', async () => {
  const rows = Array.from({ length: 10 }, (_, index): Row => ({ unit: `T${index}`, inspector: index === 0 ? 'A. Example' : 'a. EXAMPLE', released_time: '0:45' }));
  expect(await questionsOf(rows)).toMatchObject([{ about: 'A. Example', question: expect.stringContaining('10 of 10 loss tests') as string, rows: [2, 3, 4, 5, 6, 7, 8, 9] }]);
});

test('tests that were stopped early are asked about', async () => {
  const questions = await questionsOf([
    { unit: 'T1', inspector: 'A. Example', released_time: '0:45', applied_time: '1:00' },
    { unit: 'T2', inspector: 'A. Example', released_time: '1:00' },
  ]);
  expect(questions).toStrictEqual([{ kind: 'short tests', about: 'A. Example', question: '1 of 3 loss tests were timed for less than a minute. Was there a reason to stop early?', rows: [2] }]);
});

describe('an inspector whose fail rate lies outside the funnel', () => {
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

  test('is asked about, and one with few tests is not', async () => {
    // Around 38 of 205, SciPy 1.10: binom.sf(31, 100, 38/205) and binom.cdf(6, 100, 38/205) are both below 0.001.
    const undecided = Array.from({ length: 20 }, (_, index): Row => ({ unit: `N${index}`, inspected_on: day(index), inspector: 'B' }));
    const questions = await questionsOf([...rows('B', 100, 32), ...undecided, ...rows('A', 100, 6), ...rows('C', 5, 0)]);
    expect(questions.map(({ kind, about, rows: places }) => [kind, about, places])).toStrictEqual([
      ['fail rate', 'A', [122, 123, 124, 125, 126, 127]],
      ['fail rate', 'B', [2, 3, 4, 5, 6, 7, 8, 9]],
    ]);
    const percent = (tail: number): string => `${(100 * funnelLimit(38 / 205, 100, tail)).toFixed(1)} %`;
    const limits = `(funnel limits 99.8 %: ${percent(0.001)} to ${percent(0.999)})`;
    expect(questions[1]!.question).toContain(`32 of 100 inspections failed (32.0 %), more than chance explains around the fleet's 18.5 % ${limits}`);
    expect(questions[0]!.question).toContain(`6 of 100 inspections failed (6.0 %), fewer than chance explains around the fleet's 18.5 % ${limits}`);
  });

  test('is asked about from ten tests on', async () => {
    // Where 9 of 109 fail, or 10 of 110, that all of 9 or 10 do is less probable than 1e-9, and that none of 100 does less than 0.0005.
    expect((await questionsOf([...rows('A', 100, 0), ...rows('C', 9, 9)])).map(({ about }) => about)).toStrictEqual(['A']);
    expect((await questionsOf([...rows('A', 100, 0), ...rows('C', 10, 10)])).map(({ about }) => about)).toStrictEqual(['A', 'C']);
  });

  test('is not where chance explains it', async () => {
    expect(await questionsOf([...rows('A', 100, 10), ...rows('B', 100, 14)])).toStrictEqual([]);
  });
});
