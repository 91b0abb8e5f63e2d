import { expect, it } from 'vitest';
import { kendallExactTail } from '../../src/statistics/kendall-exact-tail.js';

it('is 1 at the least, 1/n! at the most and 0 beyond, and mirrors about 0', () => {
  let orders = 1;
  for (let n = 2; n <= 20; n++) {
    orders *= n;
    const most = (n * (n - 1)) / 2;
    expect(kendallExactTail(-most, n)).toBeCloseTo(1, 12);
    expect(kendallExactTail(most, n) * orders).toBeCloseTo(1, 10);
    expect(kendallExactTail(most + 1, n)).toBe(0);
    for (let s = -most; s <= most; s += 2) expect(kendallExactTail(s, n) + kendallExactTail(2 - s, n)).toBeCloseTo(1, 12);
  }
});
