import { expect, it } from 'vitest';
import { FailRateCounter } from '../../src/fleet/fail-rate-counter.js';

function counted(passed: number, failed: number, recheck = 0): FailRateCounter {
  const counter = new FailRateCounter();
  for (let index = 0; index < passed; index++) counter.add('pass');
  for (let index = 0; index < failed; index++) counter.add('fail');
  for (let index = 0; index < recheck; index++) counter.add('recheck');
  counter.add('not tested');
  return counter;
}

it('has the Wilson interval, also of counts put together', () => {
  // Newcombe RG, Statistics in Medicine 17 (1998) 857-872: 1 of 29 and 81 of 263; ten digits recomputed.
  expect(counted(28, 1).result()).toStrictEqual({ tested: 29, failed: 1, recheck: 0, rate: 1 / 29, low: expect.closeTo(0.0061132143, 9) as number, high: expect.closeTo(0.1717552188, 9) as number });
  const together = counted(100, 50, 2);
  together.merge(counted(82, 31, 3).counts());
  expect(together.result()).toStrictEqual({ tested: 263, failed: 81, recheck: 5, rate: 81 / 263, low: expect.closeTo(0.2552885199, 9) as number, high: expect.closeTo(0.366209577, 9) as number });
});

it('has no rate where nothing was tested', () => {
  expect(counted(0, 0, 3).result()).toStrictEqual({ tested: 0, failed: 0, recheck: 3, rate: null, low: null, high: null });
});
