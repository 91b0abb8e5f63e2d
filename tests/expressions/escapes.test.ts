import { afterAll, describe, expect, it, vi } from 'vitest';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { toFormula, type FormulaReference } from '../../src/expressions/to-formula.js';
import { toFunction } from '../../src/expressions/to-function.js';
import type { Tree, Value, ValueType } from '../../src/expressions/tree.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import { ownSet, SOURCE } from '../support/evaluate-rows.js';
import { parse } from '../../src/util/mathjs.js';
import { refusalOf } from '../support/refusal-of.js';
import { ResultsSection } from '../support/results-section.js';
import { changedSince, watchPrototypes } from '../support/watch-prototypes.js';
import { ESCAPES, HARMLESS } from './escapes.js';

const results = new ResultsSection('tests/expressions/RESULTS.md', 'Expressions made to do harm, and what came of each', 'Ways out of the language');

const NAME_TYPES: ReadonlyMap<string, ValueType> = new Map<string, ValueType>([['cut_in', 'number'], ['cut_out', 'number'], ['site', 'text'], ['audible_leak', 'truth']]);
const reference: FormulaReference = (name) => ({ text: name, needs: { numbers: new Set(), blankTests: new Set() }, mayFail: false });
const before = watchPrototypes();
// The two methods through which a syntax tree of mathjs runs.
const Node = Object.getPrototypeOf(Object.getPrototypeOf(parse('1'))) as { compile: () => unknown; evaluate: () => unknown };
const compile = vi.spyOn(Node, 'compile');
const evaluate = vi.spyOn(Node, 'evaluate');

afterAll(() => vi.restoreAllMocks());

describe('a way out of the expression language is refused', () => {
  it.each(ESCAPES.map(({ from, text, refused }) => [text, refused, from] as const))('%j', (text, refused, from) => {
    const { code, what, mend, message } = refusalOf(() => parseExpression(text, NAME_TYPES));
    expect(code).toBe('expression_invalid');
    expect(what.startsWith(refused), what).toBe(true);
    expect(mend).toMatch(/\S/);
    expect(message).not.toMatch(/[\r\n]/);
    results.came(`${text} (${from})`, `refused: ${what}`);
  });

  it('in every place of a limit set, and the place is named', () => {
    const check = { check: 'a', title: 'A', measure: 'cut_out', at_least: 1, unit: 'psi', source: SOURCE };
    const measure = { measure: 'm', title: 'M', unit: 'psi', expression: 'cut_out', meaning: 'M.' };
    const places: readonly (readonly [where: string, parts: (text: string) => Record<string, unknown>])[] = [
      ['measure m, expression', (text) => ({ measures: [{ ...measure, expression: text }], checks: [check] })],
      ['measure m, says', (text) => ({ measures: [{ ...measure, says: [{ when: text, say: 'x' }, { say: 'y' }] }], checks: [check] })],
      ['measure m, recheck', (text) => ({ measures: [{ ...measure, recheck: [{ when: text, say: 'x' }] }], checks: [check] })],
      ['check a, when', (text) => ({ checks: [{ ...check, when: text }] })],
      ['check a, at_least', (text) => ({ checks: [{ ...check, at_least: text }] })],
      ['condition 1 of a, recheck_when', (text) => ({ checks: [check], conditions: [{ checks: ['a'], recheck_when: text, say: 'x', source: SOURCE }] })],
    ];
    for (const [index, { text }] of ESCAPES.entries()) {
      const [where, parts] = places[index % places.length]!;
      const refusal = refusalOf(() => compileLimitSet(parseLimitSet(ownSet(parts(text)), 'own.json')));
      expect({ code: refusal.code, where: refusal.where }, text).toStrictEqual({ code: 'limit_set_invalid', where });
    }
    expect(ESCAPES.length).toBeGreaterThan(6 * places.length);
  });

  it('under a name that every object has, unless it is declared', () => {
    const declared = new Map([...NAME_TYPES, ['constructor', 'number'], ['__proto__', 'number']] as const);
    expect(parseExpression('constructor + __proto__', declared)).toMatchObject({ operator: 'add', args: [{ kind: 'name', name: 'constructor' }, { kind: 'name', name: '__proto__' }] });
    expect(refusalOf(() => parseExpression('constructor.constructor', declared)).code).toBe('expression_invalid');
    expect(refusalOf(() => parseExpression('constructor("x")', declared)).what).toBe('the function constructor is unknown');
  });
});

describe('an odd text that is taken means no more than a plain one', () => {
  it.each(HARMLESS)('%j is %j', (text, same) => {
    const tree = parseExpression(text, NAME_TYPES);
    expect(tree).toStrictEqual(parseExpression(same, NAME_TYPES));
    expect(toFormula(tree, reference)).toBe(toFormula(parseExpression(same, NAME_TYPES), reference));
    expect(() => valueOf(tree)).not.toThrow();
  });
});

function valueOf(tree: Tree): Value {
  return toFunction(tree, (name) => [...NAME_TYPES.keys()].indexOf(name))([90, 120, 'North', true]);
}

describe('after all of them', () => {
  it('nothing of mathjs was compiled or evaluated', () => {
    expect(compile).not.toHaveBeenCalled();
    expect(evaluate).not.toHaveBeenCalled();
    // The watch itself works.
    parse('1 + 1').evaluate();
    expect(evaluate).toHaveBeenCalledTimes(1);
    expect(compile).toHaveBeenCalledTimes(1);
  });

  it('no prototype and no global name is changed', () => {
    expect(changedSince(before)).toStrictEqual([]);
    // The watch itself works.
    (Object.prototype as { escaped?: number }).escaped = 1;
    const changed = changedSince(before);
    delete (Object.prototype as { escaped?: number }).escaped;
    expect(changed).toStrictEqual(['Object.prototype escaped']);
  });
});

it('stand in the published table with what came of them (WRITE_RESULTS=1 writes it anew)', () => results.expectPublished());
