import { afterAll, describe, expect, it } from 'vitest';
import { OPERATORS, type OperatorName } from '../../src/expressions/operators.js';
import type { Value } from '../../src/expressions/tree.js';
import { openEngine, type SqlEngine } from '../support/sql-engines.js';
import { OPERATOR_CASES } from './operator-cases.js';
import { COLUMNS, slotValue } from './readings-in-cells.js';
import { valuesIn } from './sql-values.js';

describe.each(['duckdb', 'postgres'] as const)('expressions as SQL in %s', (name) => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());

  it.for(Object.keys(OPERATORS) as OperatorName[])('%s gives what it must', { timeout: 60_000 }, async (operator, context) => {
    const samples = OPERATOR_CASES[operator].map((one) => ({ ...one, slots: COLUMNS.map((column) => slotValue(column.type, one.cells[column.name] ?? null)) }));
    const found = await valuesIn(await (engine ??= openEngine(name, context)), samples);
    expect(samples.flatMap(({ gives, cells }, index) => (close(gives, found[index]) ? [] : [{ cells, gives, found: found[index] }]))).toStrictEqual([]);
  });
});

/** The cases give their numbers to 9 decimals. */
function close(gives: Value, found: unknown): boolean {
  return typeof gives === 'number' ? typeof found === 'number' && Math.abs(found - gives) < 5e-10 : found === gives;
}
