import { describe, expect, it } from 'vitest';
import { FirstTimeCounter } from '../../src/fleet/first-time-counter.js';

describe('the first-time pass rate', () => {
  it('leaves out retests, units that are open, and what was not decided', () => {
    const counter = new FirstTimeCounter();
    // Newcombe RG, Statistics in Medicine 17 (1998) 857-872: 1 of 29, 0.0061 to 0.1718.
    counter.add({ verdict: 'pass', isRetest: false }, false);
    for (let index = 0; index < 28; index++) counter.add({ verdict: 'fail', isRetest: false }, false);
    counter.add({ verdict: 'pass', isRetest: true }, false);
    counter.add({ verdict: 'pass', isRetest: false }, true);
    counter.add({ verdict: 'recheck', isRetest: false }, false);
    counter.add({ verdict: 'not tested', isRetest: false }, false);
    expect(counter.result()).toStrictEqual({ tested: 29, passed: 1, rate: 1 / 29, low: expect.closeTo(0.0061132143, 9) as number, high: expect.closeTo(0.1717552188, 9) as number });
  });

  it('is not known where nothing was tested', () => {
    expect(new FirstTimeCounter().result()).toStrictEqual({ tested: 0, passed: 0, rate: null, low: null, high: null });
  });
});
