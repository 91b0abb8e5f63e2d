import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { toFunction } from '../../src/expressions/to-function.js';
import type { Value } from '../../src/expressions/tree.js';
import { openEngine, type SqlEngine } from '../support/sql-engines.js';
import { row, tree } from './random-expressions.js';
import { COLUMNS, slotOf, slotValue } from './readings-in-cells.js';
import { valuesIn, type Sample } from './sql-values.js';

const SEED = 20_260_511;
const TREES = 600;

function agrees(expected: Value, found: unknown): boolean {
  if (typeof expected !== 'number') return found === expected;
  return typeof found === 'number' && Math.abs(found - expected) <= 1e-9 * Math.max(1e-9, Math.abs(expected));
}

describe.each(['duckdb', 'postgres'] as const)('random expressions as SQL in %s', (name) => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());

  it('give over random readings what the functions give', { timeout: 120_000 }, async (context) => {
    const samples = fc.sample(fc.tuple(tree, row), { numRuns: TREES, seed: SEED }).map(([made, content]): Sample => ({ tree: made, slots: content.map((value, column) => slotValue(COLUMNS[column]!.type, value)) }));
    const found = await valuesIn(await (engine ??= openEngine(name, context)), samples);
    const expected = samples.map((sample) => toFunction(sample.tree, slotOf)(sample.slots));
    const differing = samples.flatMap((sample, index) => (agrees(expected[index]!, found[index]) ? [] : [{ index, slots: sample.slots.join(' | '), function: expected[index], sql: found[index], tree: JSON.stringify(sample.tree) }]));
    expect(differing).toStrictEqual([]);
    // The samples are worth the comparison only when most of them give something.
    expect(expected.filter((value) => value !== null).length).toBeGreaterThan(TREES / 2);
  });
});
