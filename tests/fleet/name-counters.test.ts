import { expect, it } from 'vitest';
import { NameCounters } from '../../src/fleet/name-counters.js';

it('takes names for the same in small and capital letters, as first written, and any text for a name', () => {
  const counters = new NameCounters();
  for (const [name, verdict] of [['North', 'pass'], ['NORTH', 'fail'], ['__proto__', 'fail'], ['constructor', 'recheck'], ['__PROTO__', 'not tested']] as const) counters.add(name, verdict);
  expect(counters.result().map(({ name, tested, failed, recheck, rate }) => [name, tested, failed, recheck, rate])).toStrictEqual([
    ['North', 2, 1, 0, 0.5],
    ['__proto__', 1, 1, 0, 1],
    ['constructor', 0, 0, 1, null],
  ]);
});
