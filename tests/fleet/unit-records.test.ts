import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { UnitRecord } from '../../src/fleet/unit-record.js';
import { UnitRecords } from '../../src/fleet/unit-records.js';
import { VERDICTS } from '../../src/limits/verdict.js';
import { reading, record } from './unit-records.js';

const LOSSES = 2;
const PLAIN = { noNullPrototype: true };

const number = fc.double({ noNaN: true, noDefaultInfinity: true });
const numberOrNull = fc.option(number);
const anyRecord: fc.Arbitrary<UnitRecord> = fc
  .record({
    on: fc.constantFrom('2026-01-05', '2026-03-14', '2025-12-31'),
    row: fc.integer({ min: 1, max: 2 ** 40 }),
    verdict: fc.constantFrom(...VERDICTS),
    decided: fc.constantFrom('pf-', '---', 'ppp'),
    isRetest: fc.boolean(),
    leakShare: numberOrNull,
    leading: fc.option(fc.nat(LOSSES - 1)),
    losses: fc.array(fc.option(fc.record({ value: number, limit: numberOrNull, uncertainty: numberOrNull }, PLAIN)), { minLength: LOSSES, maxLength: LOSSES }),
    buildup: fc.option(
      fc.record({
        passed: fc.boolean(),
        test: fc.option(fc.record({ fromPsi: number, toPsi: number, seconds: number, lossPsiPerMin: numberOrNull, rpm: numberOrNull, readablePsi: numberOrNull }, PLAIN)),
      }, PLAIN),
    ),
  }, PLAIN)
  .map(({ buildup, ...rest }) => ({ ...rest, buildup: buildup && { ...buildup, test: buildup.test && { on: rest.on, ...buildup.test } } }));

describe('the records of units', () => {
  it('come back as they were kept, from another thread too', () => {
    fc.assert(
      fc.property(fc.array(anyRecord, { maxLength: 20 }), (given) => {
        const records = new UnitRecords(LOSSES);
        const numbers = given.map((one) => records.add(one));
        expect(numbers.map((index) => records.at(index))).toStrictEqual(given);
        const sent = UnitRecords.of(structuredClone(records.state()));
        expect(numbers.map((index) => sent.at(index))).toStrictEqual(given);
      }),
      { numRuns: 200 },
    );
  });

  it('come back from any block', () => {
    const records = new UnitRecords(1);
    for (let row = 0; row < 5000; row += 1) records.add(record('2026-03-14', { row, losses: [reading(row / 10)] }));
    for (const row of [0, 1023, 1024, 2047, 2048, 4999]) expect(records.at(row)).toStrictEqual(record('2026-03-14', { row, losses: [reading(row / 10)] }));
  });
});
