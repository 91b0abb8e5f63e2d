import { describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import { earlierInspections, findInspections } from '../../src/workbook/find-inspections.js';
import { evaluateRows, shippedPlan } from '../support/evaluate-rows.js';

const evaluated = (): Promise<Evaluation[]> =>
  evaluateRows(shippedPlan('us-nevada'), [
    { inspection_id: '1', unit: 'T-07', inspected_on: '2026-03-01' },
    { inspection_id: '2', unit: 'K-101', inspected_on: '2026-03-10' },
    { inspection_id: '3', unit: 'T-07', inspected_on: '2026-03-10' },
    { inspection_id: '4', unit: 'T-07', inspected_on: '2026-03-10' },
    { inspection_id: '5', unit: 'T-07', inspected_on: '2026-02-01' },
    { inspection_id: '6', unit: 'T-07', inspected_on: '2026-04-01' },
    { inspection_id: '7', unit: 'X-1', inspected_on: 'soon' },
    { inspection_id: '8', unit: 'Q 1', inspected_on: '2026-03-10' },
    { inspection_id: '9', unit: 'Q-1', inspected_on: '2026-03-10' },
  ]);
const ids = (evaluations: readonly Evaluation[]): (string | null)[] => evaluations.map(({ inspection_id }) => inspection_id);

describe('the inspections of a unit on a day', () => {
  it('are all of them, in the order of the table', async () => {
    expect(ids(findInspections(await evaluated(), { unit: 'T-07', date: '2026-03-10' }, 'f.csv'))).toStrictEqual(['3', '4']);
  });

  it('are found by another spelling of the unit, where it can be one unit only', async () => {
    const fleet = await evaluated();
    expect(ids(findInspections(fleet, { unit: 't7', date: '2026-03-01' }, 'f.csv'))).toStrictEqual(['1']);
    expect(ids(findInspections(fleet, { unit: 'Q-1', date: '2026-03-10' }, 'f.csv'))).toStrictEqual(['9']);
    expect(() => findInspections(fleet, { unit: 'q1', date: '2026-03-10' }, 'f.csv')).toThrow('f.csv: there is no unit "q1"; write it as it stands there: "Q 1" or "Q-1"');
  });

  it.each([
    ['K-110', '2026-03-10', 'f.csv: there is no unit "K-110"; the nearest one is "K-101"'],
    ['zzzzzzzz', '2026-03-10', 'f.csv: there is no unit "zzzzzzzz"; write it as it stands in the column Unit'],
    ['T-07', '2026-03-08', 'f.csv: there is no inspection of "T-07" on 2026-03-08; the nearest one is of 2026-03-10'],
    ['T-07', '2020-01-01', 'f.csv: there is no inspection of "T-07" on 2020-01-01; the nearest one is of 2026-02-01'],
    ['X-1', '2026-03-10', 'f.csv: there is no inspection of "X-1" on 2026-03-10; no date of that unit was understood; mend its dates first'],
    ['constructor', '2026-03-10', 'f.csv: there is no unit "constructor"; write it as it stands in the column Unit'],
  ])('are refused in one line that names the nearest: %s on %s', async (unit, date, message) => {
    const fleet = await evaluated();
    expect(() => findInspections(fleet, { unit, date }, 'f.csv')).toThrow(expect.objectContaining({ name: 'TreadlebookError', code: 'input_unreadable', message }) as Error);
  });
});

it('the inspections before one are those of its unit, the latest first, and of its day those above it', async () => {
  const fleet = await evaluated();
  const of = (id: string, most: number): (string | null)[] => ids(earlierInspections(fleet, fleet.find(({ inspection_id }) => inspection_id === id)!, most));
  expect(of('6', 3)).toStrictEqual(['4', '3', '1']);
  expect(of('4', 3)).toStrictEqual(['3', '1', '5']);
  expect(of('5', 3)).toStrictEqual([]);
  expect(of('7', 3)).toStrictEqual([]);
});
