import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { readFileSync } from 'node:fs';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetIds, loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import { namesIn } from '../../src/expressions/tree.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { NOTHING_FOUND } from '../../src/readings/inspection.js';
import { anyText } from './any-table.js';

const SHIPPED = limitSetIds().map((id) => JSON.parse(readFileSync(packagePath('workbooks', 'limits', `${id}.json`), 'utf8')) as Json);
type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

const odd: fc.Arbitrary<Json> = fc.oneof(anyText, fc.constantFrom<Json>(null, true, false, 0, -1, 1e308, '', [], {}, [null], 'psi', 'kPa', 'cut_out', 'cut_out > 1', 'us-nevada', '{value}', '{', 'yes', 'major'), fc.jsonValue({ maxDepth: 2 }) as fc.Arbitrary<Json>);

/** Every place in a document, as the keys that lead to it. */
function placesIn(value: Json, path: readonly string[] = []): (readonly string[])[] {
  const inside = value !== null && typeof value === 'object' ? Object.entries(value).flatMap(([key, part]) => placesIn(part, [...path, key])) : [];
  return path.length === 0 ? inside : [path, ...inside];
}

/** A document with something else in a place; `undefined` takes it out. */
function withOther(value: Json, [key, ...rest]: readonly string[], other: Json | undefined): Json {
  if (value === null || typeof value !== 'object' || key === undefined) return value;
  if (Array.isArray(value)) return value.flatMap((part, index) => (String(index) !== key ? [part] : rest.length > 0 ? [withOther(part, rest, other)] : other === undefined ? [] : [other]));
  return Object.fromEntries(Object.entries(value).flatMap(([name, part]) => (name !== key ? [[name, part]] : rest.length > 0 ? [[name, withOther(part, rest, other)]] : other === undefined ? [] : [[name, other]])));
}

const changed = fc.constantFrom(...SHIPPED).chain((set) => {
  const places = placesIn(set);
  const change = fc.tuple(fc.constantFrom(...places), fc.oneof(odd, fc.constant(undefined), fc.constantFrom(...places).map((path) => path.reduce<Json>((at, key) => (at as Record<string, Json>)[key]!, set))));
  return fc.array(change, { minLength: 1, maxLength: 3 }).map((changes) => changes.reduce<Json>((now, [path, other]) => withOther(now, path, other), set));
});

describe('a limit set in which something else stands somewhere', () => {
  it('is refused with the place, or compiles to columns that can be computed of a blank row', { timeout: 120_000 }, () => {
    let compiled = 0;
    fc.assert(
      fc.property(changed, (set) => {
        try {
          const plan = compileLimitSet(parseLimitSet(JSON.stringify(set), 'own.json'));
          const row = new RowEvaluator(plan).evaluate({ row: 2, values: plan.dictionary.fields.map(() => null), asFound: NOTHING_FOUND, notRead: [], extra: [] });
          expect(['pass', 'fail', 'recheck', 'not tested', null]).toContain(row.verdict);
          for (const { tree } of plan.columns) if (tree !== null) expect(namesIn(tree).has('undefined')).toBe(false);
          compiled += 1;
        } catch (error) {
          expect(error).toBeInstanceOf(TreadlebookError);
          expect((error as TreadlebookError).code).toMatch(/^limit_set_(?:invalid|unknown)$/);
          expect((error as TreadlebookError).message).toMatch(/^[^\p{Cc}]{10,1200}$/u);
        }
      }),
      { numRuns: 400, seed: 20261116 },
    );
    expect(compiled).toBeGreaterThan(20);
  });

  it.each(limitSetIds())('%s written as JSON and read again compiles to the same plan', (id) => {
    const set = loadLimitSet(id);
    const again = parseLimitSet(JSON.stringify(set), 'again.json');
    expect(JSON.stringify(again)).toBe(JSON.stringify(set));
    expect(compileLimitSet(again).sha256).toBe(compileLimitSet(set).sha256);
  });
});
