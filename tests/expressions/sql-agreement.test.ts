import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { OPERATORS, type OperatorName } from '../../src/expressions/operators.js';
import { DIALECTS } from '../../src/expressions/sql-dialect.js';
import { SqlLayers } from '../../src/expressions/sql-layers.js';
import { sqlColumn } from '../../src/expressions/sql-part.js';
import { toFunction } from '../../src/expressions/to-function.js';
import { toSql } from '../../src/expressions/to-sql.js';
import type { Tree, Value, ValueType } from '../../src/expressions/tree.js';
import { openEngine, type SqlEngine } from '../support/sql-engines.js';
import { OPERATOR_CASES } from './operator-cases.js';
import { row, tree } from './random-expressions.js';
import { COLUMNS, slotOf, slotValue } from './readings-in-cells.js';

const SEED = 20_260_511;
const TREES = 600;

interface Sample {
  readonly tree: Tree;
  readonly slots: readonly Value[];
}

/** The value of each tree over its own row, in one query of a database. */
async function valuesIn(engine: SqlEngine, samples: readonly Sample[]): Promise<unknown[]> {
  const dialect = DIALECTS[engine.dialect];
  const types: Readonly<Record<ValueType, string>> = { number: dialect.double, text: dialect.text, truth: 'BOOLEAN' };
  const literal = (value: Value): string => (value === null ? 'NULL' : typeof value === 'number' ? dialect.number(value) : typeof value === 'string' ? dialect.quote(value) : String(value));
  const values: unknown[] = [];
  await engine.run(`DROP TABLE IF EXISTS sample; CREATE TABLE sample (id INTEGER, ${COLUMNS.map(({ name, type }) => `${dialect.identifier(name)} ${types[type]}`).join(', ')});
    INSERT INTO sample VALUES ${samples.map(({ slots }, index) => `(${index}, ${slots.map(literal).join(', ')})`).join(', ')};`);
  const queries = samples.map((sample, index) => {
    const layers = new SqlLayers(dialect);
    const result = dialect.identifier('result');
    layers.define('result', toSql(sample.tree, (name) => sqlColumn(dialect.identifier(name)), layers));
    return `SELECT ${index} AS id, ${sample.tree.type === 'truth' ? `CASE WHEN ${result} THEN 1 WHEN NOT ${result} THEN 0 END` : result} AS value FROM (${layers.query(`SELECT * FROM sample WHERE id = ${index}`, [result])}) AS only_one`;
  });
  for (const type of ['number', 'text', 'truth'] as const) {
    const own = queries.filter((_, index) => samples[index]!.tree.type === type);
    if (own.length === 0) continue;
    for (const { id, value } of await engine.rows(own.join(' UNION ALL '))) values[id as number] = type === 'truth' && value !== null ? Number(value) === 1 : value;
  }
  return values;
}

function agrees(expected: Value, found: unknown): boolean {
  if (typeof expected !== 'number') return found === expected;
  return typeof found === 'number' && Math.abs(found - expected) <= 1e-9 * Math.max(1e-9, Math.abs(expected));
}

describe.each(['duckdb', 'postgres'] as const)('expressions as SQL in %s', (name) => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());

  it.for(Object.keys(OPERATORS) as OperatorName[])('%s gives what it must', { timeout: 60_000 }, async (operator, context) => {
    const samples = OPERATOR_CASES[operator].map((one) => ({ ...one, slots: COLUMNS.map((column) => slotValue(column.type, one.cells[column.name] ?? null)) }));
    const found = await valuesIn(await (engine ??= openEngine(name, context)), samples);
    expect(samples.flatMap(({ gives, cells }, index) => (close(gives, found[index]) ? [] : [{ cells, gives, found: found[index] }]))).toStrictEqual([]);
  });

  it('random expressions over random readings give what the functions give', { timeout: 120_000 }, async (context) => {
    const samples = fc.sample(fc.tuple(tree, row), { numRuns: TREES, seed: SEED }).map(([made, content]): Sample => ({ tree: made, slots: content.map((value, column) => slotValue(COLUMNS[column]!.type, value)) }));
    const found = await valuesIn(await (engine ??= openEngine(name, context)), samples);
    const expected = samples.map((sample) => toFunction(sample.tree, slotOf)(sample.slots));
    const differing = samples.flatMap((sample, index) => (agrees(expected[index]!, found[index]) ? [] : [{ index, slots: sample.slots.join(' | '), function: expected[index], sql: found[index], tree: JSON.stringify(sample.tree) }]));
    expect(differing).toStrictEqual([]);
    // The samples are worth the comparison only when most of them give something.
    expect(expected.filter((value) => value !== null).length).toBeGreaterThan(TREES / 2);
  });
});

/** The cases give their numbers to 9 decimals. */
function close(gives: Value, found: unknown): boolean {
  return typeof gives === 'number' ? typeof found === 'number' && Math.abs(found - gives) < 5e-10 : found === gives;
}
