import { describe, expect, it } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { quickTests, sharingTests } from './quick-tests.js';

describe('the quick tests', () => {
  const quick = quickTests(packagePath());

  it('are most of the tests of what the program computes', () => {
    expect(quick.length).toBeGreaterThan(160);
    for (const name of ['readings/parse-date', 'readings/parse-number', 'fleet/period-of', 'published/date-serials', 'places/place-in-force', 'properties/readings.property']) expect([name, quick.includes(`tests/${name}.test.ts`)]).toStrictEqual([name, name !== 'fleet/period-of']);
  });

  it('start no other program, by what they import either', () => {
    for (const name of ['statistics/reference-program', 'expressions/agreement', 'expressions/sql-agreement', 'limits/every-set-agrees', 'formats/parquet-without-duckdb', 'places/dates']) expect([name, quick.includes(`tests/${name}.test.ts`)]).toStrictEqual([name, false]);
  });
});

describe('the tests that share their process', () => {
  const sharing = sharingTests(packagePath());

  it('are all the quick ones, and those that start other programs', () => {
    expect(quickTests(packagePath()).filter((name) => !sharing.includes(name))).toStrictEqual([]);
    for (const name of ['workbook/verify-workbook', 'cli/streams', 'limits/every-set-agrees']) expect([name, sharing.includes(`tests/${name}.test.ts`)]).toStrictEqual([name, true]);
  });

  it('put nothing in the place of a module, and set no variable of the environment', () => {
    for (const name of ['formats/parquet-without-duckdb', 'support/recalculate', 'places/same-everywhere']) expect([name, sharing.includes(`tests/${name}.test.ts`)]).toStrictEqual([name, false]);
  });
});
