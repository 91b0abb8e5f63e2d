import { describe, expect, it } from 'vitest';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetIds, loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { ownPlan, ownSet, SOURCE } from '../support/evaluate-rows.js';

const CHECK = { check: 'a', title: 'A', measure: 'cut_out', at_most: 135, unit: 'psi', source: SOURCE };

describe('the interval of a limit set', () => {
  it('is 12 months in the shipped sets that name one, and is named where 49 CFR 396.17 holds', () => {
    // 49 CFR 396.17(a),(c): a periodic inspection within the preceding 12 months
    const named = limitSetIds().filter((id) => loadLimitSet(id).interval !== undefined);
    expect(named).toStrictEqual(['common-practice', 'us-california', 'us-district-of-columbia', 'us-driver-licence-manual', 'us-federal-in-service', 'us-maryland', 'us-nevada', 'us-new-hampshire', 'us-washington-air-over-hydraulic']);
    for (const id of named) {
      const { interval, cells } = compileLimitSet(loadLimitSet(id));
      expect(interval).toMatchObject({ unit: 'months', every: 12, cell: { name: 'limit:interval:months', value: 12 } });
      expect(cells).toContainEqual({ name: 'limit:interval:months', value: 12 });
      expect(`${interval!.source.citation} ${interval!.source.note}`).toContain('49 CFR 396.17');
      expect(interval!.source.status).toBe(id === 'common-practice' ? 'common practice' : 'secondary');
    }
  });

  it('may be days, or be left out', () => {
    expect(ownPlan({ checks: [CHECK], interval: { days: 90, source: SOURCE } }).interval).toStrictEqual({ unit: 'days', every: 90, source: SOURCE, cell: { name: 'limit:interval:days', value: 90 } });
    const without = ownPlan({ checks: [CHECK] });
    expect([without.interval, without.cells.map(({ name }) => name)]).toStrictEqual([null, ['limit:a:1']]);
  });

  it('comes from the set that is extended, unless there is an own one', () => {
    const own = (more: Record<string, unknown>) => parseLimitSet(ownSet({ extends: 'us-nevada', ...more }), 'own.json').interval;
    expect(own({})).toStrictEqual(loadLimitSet('us-nevada').interval);
    expect(own({ interval: { days: 90, source: SOURCE } })).toStrictEqual({ days: 90, source: SOURCE });
  });

  it.each<[string, Record<string, unknown>, string]>([
    ['both', { months: 12, days: 90 }, 'interval: give exactly one of months, days'],
    ['neither', {}, 'interval: give exactly one of months, days'],
    ['no month', { months: 0 }, 'interval.months: Too small: expected number to be >=1'],
    ['more than ten years of months', { months: 121 }, 'interval.months: Too big: expected number to be <=120'],
    ['more than ten years of days', { days: 3651 }, 'interval.days: Too big: expected number to be <=3650'],
    ['a part of a month', { months: 1.5 }, 'interval.months: Invalid input: expected int, received number'],
    ['a text', { days: '90' }, 'interval.days: Invalid input: expected number, received string'],
    ['another unit', { months: 12, weeks: 2 }, 'interval: Unrecognized key: "weeks"'],
    ['no source', { months: 12, source: undefined }, 'interval.source: Invalid input: expected object, received undefined'],
  ])('is refused with %s', (_what, interval, what) => {
    let found: unknown;
    try {
      parseLimitSet(ownSet({ checks: [CHECK], interval: { source: SOURCE, ...interval } }), 'own.json');
    } catch (error) {
      found = error;
    }
    expect(found).toBeInstanceOf(TreadlebookError);
    expect(found).toMatchObject({ code: 'limit_set_invalid', where: 'own.json', what });
  });

  it('changes the hash of a set', () => {
    const plain = ownPlan({ checks: [CHECK] });
    expect(ownPlan({ checks: [CHECK], interval: { months: 12, source: SOURCE } }).sha256).not.toBe(plain.sha256);
  });
});
