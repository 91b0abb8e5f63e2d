import { beforeEach, describe, expect, it } from 'vitest';
import { failureReason } from '../../src/fleet/failure-reason.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { evaluateRow, ownPlan, shippedPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

let PLAN: LimitPlan;
beforeEach(() => {
  PLAN = shippedPlan('common-practice');
});

async function reasons(row: Row, plan: LimitPlan = PLAN): Promise<string[]> {
  const { checks, measures } = await evaluateRow(plan, row);
  return checks.filter(({ verdict }) => verdict === 'fail').map((result) => failureReason(plan, plan.checks.find(({ check }) => check === result.check)!, result, measures));
}
const applied = (primary: number | null, secondary: number | null): Row => ({
  ...(primary === null ? {} : { applied_primary_start: 100, applied_primary_end: 100 - primary }),
  ...(secondary === null ? {} : { applied_secondary_start: 100, applied_secondary_end: 100 - secondary }),
  applied_time: '1:00',
});

describe('why a check failed', () => {
  // At most 4 psi in a minute, brakes applied.
  it.each([
    [9, 1, 'Loss, brakes applied: primary circuit'],
    [4, 5, 'Loss, brakes applied: secondary circuit'],
    [4.0000004, 4.1, 'Loss, brakes applied: secondary circuit'],
    [9, 5, 'Loss, brakes applied: both circuits'],
    [9, null, 'Loss, brakes applied: primary circuit'],
    [null, 5, 'Loss, brakes applied: secondary circuit'],
  ])('losses of %s and %s psi: %s', async (primary, secondary, reason) => {
    expect(await reasons(applied(primary, secondary))).toStrictEqual([reason]);
  });

  it('is the title alone where a check knows no circuits, and one reason for each check', async () => {
    expect(await reasons({ light_on_at: 40, ...applied(9, 9) })).toStrictEqual(['Loss, brakes applied: both circuits', 'Low-air warning']);
  });

  it('names some of several circuits, and calls all of more than two all', async () => {
    const field = (name: string): Record<string, unknown> => ({ name, kind: 'quantity', title: name, help: name });
    const measure = (circuit: string): Record<string, unknown> => ({ measure: `loss_${circuit}`, title: circuit, unit: 'psi', expression: `fall_${circuit}`, meaning: 'x', circuit });
    const circuits = ['front', 'middle', 'rear_left', 'rear_right'];
    const plan = ownPlan({
      columns: circuits.map((circuit) => field(`fall_${circuit}`)),
      measures: [...circuits.map(measure), { measure: 'loss', title: 'Loss', unit: 'psi', highest_of: circuits.map((circuit) => `loss_${circuit}`), meaning: 'x' }],
      checks: [{ check: 'fall', title: 'Fall', measure: 'loss', less_than: 3, unit: 'psi', source: SOURCE }],
    });
    expect(await reasons({ fall_front: 3, fall_middle: 2, fall_rear_left: 2, fall_rear_right: 7 }, plan)).toStrictEqual(['Fall: front and rear right circuits']);
    expect(await reasons({ fall_front: 3, fall_middle: 2, fall_rear_left: 4, fall_rear_right: 7 }, plan)).toStrictEqual(['Fall: front, rear left and rear right circuits']);
    expect(await reasons({ fall_front: 3, fall_middle: 3, fall_rear_left: 3, fall_rear_right: 7 }, plan)).toStrictEqual(['Fall: all circuits']);
    expect(await reasons({ fall_front: 1, fall_rear_left: 3, fall_rear_right: 2.9 }, plan)).toStrictEqual(['Fall: rear left circuit']);
  });
});
