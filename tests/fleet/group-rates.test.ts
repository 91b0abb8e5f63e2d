import { describe, expect, it } from 'vitest';
import type { FailRate } from '../../src/fleet/fail-rate.js';
import { groupRates } from '../../src/fleet/group-rates.js';
import { wilsonInterval } from '../../src/statistics/wilson-interval.js';

function rateOf(name: string, failed: number, tested: number): FailRate & { readonly name: string } {
  const interval = wilsonInterval(failed, tested);
  return { name, tested, failed, recheck: 0, rate: tested === 0 ? null : failed / tested, low: interval?.low ?? null, high: interval?.high ?? null };
}

describe('the rates of a table', () => {
  it('do not let one failure in one test top the list', () => {
    const { rates, prior } = groupRates('site', [rateOf('Once', 1, 1), rateOf('A', 2, 60), rateOf('B', 30, 60), rateOf('C', 6, 60), rateOf('D', 20, 60), rateOf('Never', 0, 0)]);
    expect(prior!.weight).not.toBeNull();
    expect(rates.map(({ name }) => name)).toStrictEqual(['B', 'Once', 'D', 'C', 'A', 'Never']);
    for (const { rate, estimate } of rates.slice(0, 5)) expect(Math.abs(estimate! - prior!.mean)).toBeLessThan(Math.abs(rate! - prior!.mean));
    expect(rates.at(-1)).toStrictEqual({ group: 'site', name: 'Never', tested: 0, failed: 0, recheck: 0, rate: null, low: null, high: null, estimate: null, flag: 'too few to judge' });
    // The rate of all is 59 of 241. Limits of 60 around it by Spiegelhalter's formula, with SciPy's binomial distribution:
    // 0.1 % 4.7149, 2.5 % 7.9251, 97.5 % 20.9406, 99.9 % 25.0907 failures.
    expect(rates.map(({ name, flag }) => [name, flag])).toStrictEqual([
      ['B', 'far higher than the others'], ['Once', 'too few to judge'], ['D', 'as the others'], ['C', 'lower than the others'], ['A', 'far lower than the others'], ['Never', 'too few to judge'],
    ]);
  });

  it('stand by rate without an estimate, the surer first of those alike, then by name', () => {
    expect(groupRates('site', [rateOf('A', 1, 4), rateOf('B', 4, 8)]).rates.map(({ name, estimate }) => [name, estimate])).toStrictEqual([['B', null], ['A', null]]);
    expect(groupRates('check', [rateOf('few', 1, 2), rateOf('none', 0, 0), rateOf('b', 0, 0), rateOf('many', 5, 10)]).rates.map(({ name }) => name)).toStrictEqual(['many', 'few', 'b', 'none']);
  });

  it('all have the common estimate where they do not differ, and the surer stands first', () => {
    const { rates, prior } = groupRates('site', [rateOf('A', 1, 10), rateOf('B', 2, 20), rateOf('C', 3, 30)]);
    expect(prior).toStrictEqual({ group: 'site', mean: expect.closeTo(0.1, 12) as number, weight: null });
    expect(rates.map(({ name, flag }) => [name, flag])).toStrictEqual([['C', 'as the others'], ['B', 'as the others'], ['A', 'as the others']]);
    for (const { estimate } of rates) expect(estimate).toBe(prior!.mean);
  });

  it('leave periods in the order of time', () => {
    expect(groupRates('period', [rateOf('2026-01', 0, 9), rateOf('2026-02', 9, 9), rateOf('2026-03', 3, 9)]).rates.map(({ name }) => name)).toStrictEqual(['2026-01', '2026-02', '2026-03']);
  });

  it('are as the others in a table of one, and where none or all failed', () => {
    expect(groupRates('inspector', [rateOf('Ann', 3, 10)]).rates[0]).toMatchObject({ estimate: null, flag: 'as the others' });
    expect(groupRates('inspector', [rateOf('Ann', 0, 10), rateOf('Bob', 0, 5)]).rates.map(({ flag }) => flag)).toStrictEqual(['as the others', 'as the others']);
    expect(groupRates('inspector', [rateOf('Ann', 10, 10), rateOf('Bob', 5, 5)]).rates.map(({ flag }) => flag)).toStrictEqual(['as the others', 'as the others']);
    expect(groupRates('inspector', [])).toStrictEqual({ rates: [], prior: null });
  });
});
