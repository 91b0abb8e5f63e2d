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

it('lists names that are given, even if nothing is counted under them', () => {
  expect(new NameCounters(['North', 'South']).result().map(({ name, tested }) => [name, tested])).toStrictEqual([['North', 0], ['South', 0]]);
});

it('adds what others counted, behind the names that it has', () => {
  const [counters, others] = [new NameCounters(), new NameCounters()];
  counters.add('North', 'pass');
  others.add('South', 'fail');
  others.add('NORTH', 'fail');
  counters.merge(others.counts());
  expect(counters.result().map(({ name, tested, failed }) => [name, tested, failed])).toStrictEqual([['North', 2, 1], ['South', 1, 1]]);
});
