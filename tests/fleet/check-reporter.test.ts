import { describe, expect, it } from 'vitest';
import type { CheckResult } from '../../src/fleet/evaluation.js';
import { evaluateRow, ownPlan, SOURCE, type Row } from '../support/evaluate-rows.js';

const CHECK = { check: 'a', title: 'A', measure: 'cut_in', unit: 'psi', source: SOURCE };
const resultOf = async (row: Row, ...checks: Readonly<Record<string, unknown>>[]): Promise<CheckResult | undefined> => (await evaluateRow(ownPlan({ checks: checks.map((more) => ({ ...CHECK, ...more })) }), row)).checks[0];

describe('the result of a check', () => {
  it('says how grave a failure is, by the alternative that applies, and nothing where the set does not', async () => {
    const graded = [{ when: 'vehicles == 2', at_least: 80, severity: 'major' }, { when: 'vehicles == 3', at_least: 80, severity: 'minor' }, { at_least: 80 }];
    const severities = await Promise.all([2, 3, 1].map(async (vehicles) => (await resultOf({ cut_in: 79, vehicles }, ...graded))!.severity));
    expect(severities).toStrictEqual(['major', 'minor', null]);
  });

  it('of a band has both ends, or no limit where either is not known', async () => {
    const limit = async (between: readonly unknown[], row: Row): Promise<unknown> => (await resultOf({ cut_in: 90, ...row }, { between }))!.limit;
    expect(await limit(['0.5 * cut_out', 100], { cut_out: 120 })).toStrictEqual([60, 100]);
    expect(await limit(['0.5 * cut_out', 100], {})).toBeNull();
    expect(await limit([60, 'cut_out'], {})).toBeNull();
    expect(await limit(['0.5 * cut_out', 'cut_out'], {})).toBeNull();
  });

  it('is none where no alternative applies', async () => {
    expect(await resultOf({ cut_in: 90 }, { when: 'vehicles == 2', at_least: 80 })).toBeUndefined();
  });
});
