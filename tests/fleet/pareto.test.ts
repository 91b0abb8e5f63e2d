import { expect, it } from 'vitest';
import { pareto } from '../../src/fleet/pareto.js';

it('puts most failures first, alike ones by name, with shares that run up to 1', () => {
  // By hand: 12 failures; 6, 3, 2 and 1 of them.
  expect(pareto([{ name: 'b', failed: 3 }, { name: 'z', failed: 0 }, { name: 'c', failed: 1 }, { name: 'd', failed: 2 }, { name: 'a', failed: 6 }])).toStrictEqual([
    { reason: 'a', failed: 6, share: 0.5, running_share: 0.5 },
    { reason: 'b', failed: 3, share: 0.25, running_share: 0.75 },
    { reason: 'd', failed: 2, share: 1 / 6, running_share: 11 / 12 },
    { reason: 'c', failed: 1, share: 1 / 12, running_share: 1 },
  ]);
  expect(pareto([{ name: 'b', failed: 2 }, { name: 'a', failed: 2 }]).map(({ reason }) => reason)).toStrictEqual(['a', 'b']);
});

it('is empty without failures, and ends at 1 however the thirds add up', () => {
  expect(pareto([])).toStrictEqual([]);
  expect(pareto([{ name: 'a', failed: 0 }])).toStrictEqual([]);
  expect(pareto(['a', 'b', 'c'].map((name) => ({ name, failed: 1 }))).at(-1)!.running_share).toBe(1);
});
