import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { VERDICTS } from '../../src/limits/verdict.js';
import { evaluateRows, shippedPlan, type Row } from '../support/evaluate-rows.js';

describe('units of pressure', () => {
  // NIST SP 811 (2008), Appendix B.
  const PER_PSI = { psi: 1, kPa: 6.894757293168361, bar: 0.06894757293168361 } as const;
  const PRESSURES = ['released_primary_start', 'released_primary_end', 'released_secondary_start', 'released_secondary_end', 'applied_primary_start', 'applied_primary_end', 'light_on_at', 'buzzer_on_at', 'buildup_from', 'buildup_to', 'cut_in', 'cut_out', 'parking_valve_closes_at', 'trailer_valve_closes_at', 'reserve_before', 'reserve_after', 'pressure_after_applications', 'gauge_step'] as const;
  const BUILDUP_RUNS = ['between pressures', 'empty to warning off', 'warning off to cut-out', 'empty to cut-out', 'empty to 65 %', 'after five applications'] as const;

  it('change no verdict: a row in kPa or bar is judged as in psi', async () => {
    const reading = fc.oneof(fc.integer({ min: 0, max: 1400 }).map((tenths) => tenths / 10), fc.constantFrom(20, 45, 50, 55, 60, 80, 85, 90, 97, 98, 100, 135));
    const row = fc.record({
      pressures: fc.tuple(...PRESSURES.map(() => fc.option(reading, { freq: 8 }))),
      times: fc.tuple(...(['released_time', 'applied_time', 'buildup_time'] as const).map(() => fc.constantFrom(45, 59, 60, 120, 300, 301))),
      vehicles: fc.constantFrom(1, 2, 3),
      buildup_run: fc.constantFrom(...BUILDUP_RUNS),
      applications_after_warning: fc.integer({ min: 0, max: 5 }),
    });
    const samples = fc.sample(row, { numRuns: 150, seed: 20_260_314 });
    const inUnit = (unit: keyof typeof PER_PSI): Row[] =>
      samples.map(({ pressures, times: [released_time, applied_time, buildup_time], ...more }) => ({
        pressure_unit: unit, ...more, released_time: `${released_time} s`, applied_time: `${applied_time} s`, buildup_time: `${buildup_time} s`,
        ...Object.fromEntries(PRESSURES.map((name, index) => [name, pressures[index] === null ? '' : (pressures[index]! * PER_PSI[unit]).toFixed(10)])),
      }));
    for (const id of limitSetIds()) {
      const plan = shippedPlan(id);
      const verdicts = async (unit: keyof typeof PER_PSI) => (await evaluateRows(plan, inUnit(unit))).map(({ verdict, checks }) => [verdict, ...checks.map((result) => `${result.check} ${result.verdict}`)]);
      const inPsi = await verdicts('psi');
      expect(new Set(inPsi.map(([verdict]) => verdict)).size).toBeGreaterThan(1);
      expect(await verdicts('kPa')).toStrictEqual(inPsi);
      expect(await verdicts('bar')).toStrictEqual(inPsi);
    }
  });
});

describe('anything that can stand in a row', () => {
  it('gets one of the four verdicts and a reason, and no error', async () => {
    const names = shippedPlan('common-practice').dictionary.fields.map(({ name }) => name);
    const cell = fc.oneof(fc.constantFrom('', 'never', '-1', '0', '1e308', '-1e308', '9'.repeat(40), 'yes', '104-108', '~70', '1:00', '5 min', '120 psi', '8 bar', '__proto__', 'constructor', '=1+1', '\u0000'), fc.double(), fc.boolean(), fc.string({ maxLength: 8 }), fc.integer({ min: 0, max: 150 }));
    const rows = fc.sample(fc.dictionary(fc.constantFrom(...names), cell), { numRuns: 400, seed: 9 });
    for (const id of limitSetIds()) {
      for (const evaluation of await evaluateRows(shippedPlan(id), rows.map((row) => ({ ...row })))) {
        expect(VERDICTS).toContain(evaluation.verdict);
        expect(evaluation.reason).toMatch(/^(Passes|Fails( \((major defect|dangerous defect|minor defect|out of service)\))?|Not decided|Not complete)\./);
        for (const result of evaluation.checks) {
          expect(VERDICTS).toContain(result.verdict);
          expect(result.reason).toMatch(/\.$/);
          expect(result.reason).not.toMatch(/undefined|NaN|Infinity|null/);
          for (const number of [result.value, result.share_of_limit, result.chance_within_limit]) if (typeof number === 'number') expect(Number.isFinite(number)).toBe(true);
        }
      }
    }
  });
});
