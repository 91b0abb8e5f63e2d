import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { compileLimitSet, type LimitPlan } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import type { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { evaluateCells } from '../properties/any-table.js';
import { evaluateRow, ownPlan, ownSet, SOURCE } from '../support/evaluate-rows.js';
import { changedSince, watchPrototypes } from '../support/watch-prototypes.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { refusalOf } from '../support/refusal-of.js';

const CHECK = { check: 'a', title: 'A', measure: 'cut_out', at_most: 1, unit: 'psi', source: SOURCE };
const measure = (name: string, parts: Readonly<Record<string, unknown>>): Record<string, unknown> => ({ measure: name, title: name, unit: 'psi', meaning: 'A measure.', ...parts });

function refusal(work: () => unknown): Pick<TreadlebookError, 'code' | 'where' | 'what'> {
  const { code, where, what, message } = refusalOf(work);
  expect(message.length).toBeLessThan(1200);
  expect(message).not.toMatch(/[\r\n]/);
  return { code, where, what };
}

/** Measures of which each is made of those before it; m0 is a reading. */
const chain = (length: number, next: (index: number) => Readonly<Record<string, unknown>>): Record<string, unknown>[] => [measure('m0', { expression: 'cut_out' }), measure('m1', { expression: 'cut_out' }), ...Array.from({ length }, (_, at) => measure(`m${at + 2}`, next(at + 2)))];

describe('measures that are made of measures', () => {
  it('twice each: the hundredth is compiled and computed at once', async () => {
    const plan = ownPlan({ measures: chain(98, (at) => ({ expression: `0.5 * (m${at - 1} + m${at - 1})`, says: [{ say: `{m${at - 1}} and {m${at - 1}}` }] })), checks: [{ ...CHECK, measure: 'm99' }] });
    // Half of twice the same is the same.
    expect((await evaluateRow(plan, { cut_out: 120 })).measures['m99']).toBe(120);
  });

  it('of the two before each, as rabbits breed: likewise', async () => {
    const plan = ownPlan({ measures: chain(98, (at) => ({ expression: `m${at - 1} - m${at - 2} + cut_out`, says: [{ say: `{m${at - 1}} and {m${at - 2}}` }] })), checks: [{ ...CHECK, measure: 'm99' }] });
    // x(n) = x(n-1) - x(n-2) + c from c, c comes back every six steps: c, c, c, c, ...
    expect((await evaluateRow(plan, { cut_out: 120 })).measures['m99']).toBe(120);
  });

  it('of optional columns, the two before each', () => {
    const columns = [{ name: 'mine', kind: 'pressure', title: 'Mine', help: 'Mine.', when_used: true }];
    const measures = chain(98, (at) => ({ expression: `m${at - 1} + m${at - 2} + mine`, when_used: true }));
    const plan = ownPlan({ columns, measures, checks: [CHECK] });
    expect([...plan.optionalColumns]).toContain('mine');
  });

  it('the worst of the two before each: what is said of them grows without end, and is refused', () => {
    const worst = (length: number, of: (at: number) => string[]): LimitPlan => ownPlan({ measures: chain(length, (at) => ({ highest_of: of(at), recheck: [] })), checks: [{ ...CHECK, measure: `m${length + 1}` }] });
    expect(worst(3, (at) => [`m${at - 1}`, `m${at - 2}`]).measures.length).toBeGreaterThan(4);
    for (const of of [(at: number) => [`m${at - 1}`, `m${at - 2}`], (at: number) => [`m${at - 1}`, `m${at - 1}`]]) {
      expect(refusal(() => worst(60, of))).toStrictEqual({ code: 'limit_set_invalid', where: expect.stringMatching(/^measure m\d+$/) as string, what: 'too much is said of it' });
    }
  });

  it('in a circle, or before what they are made of: refused by name', () => {
    for (const [measures, where] of [
      [[measure('x', { expression: 'y' }), measure('y', { expression: 'x' })], 'measure x, expression'],
      [[measure('x', { expression: 'x' })], 'measure x, expression'],
      [[measure('x', { highest_of: ['x', 'cut_in'] })], 'measure x'],
      [[measure('x', { highest_of: ['y', 'cut_in'] }), measure('y', { highest_of: ['x', 'cut_in'] })], 'measure x'],
    ] as const) {
      expect(refusal(() => ownPlan({ measures, checks: [CHECK] }))).toMatchObject({ code: 'limit_set_invalid', where });
    }
  });

  it('with powers of powers: the workbook is refused, the column is named, and JSON is not', async () => {
    const powers = Array(24).fill('m0').join(' ^ ');
    const plan = ownPlan({ measures: [measure('m0', { expression: 'cut_out' }), measure('m1', { expression: powers })], checks: [{ ...CHECK, measure: 'm1' }] });
    const fleet = await evaluateCells(plan, [['unit', 'inspected_on', 'cut_out'], ['T1', '2026-03-14', 1]]);
    expect(fleet.evaluations[0]!.measures['m1']).toBe(1);
    await expect(bytesOf(workbookOf(fleet))).rejects.toMatchObject({ code: 'expression_invalid', where: expect.stringMatching(/^column computed\.m1/) as string, what: 'its formula would have more than 8192 characters' });
  });
});

describe('a limit-set file', () => {
  const many = <T>(count: number, make: (at: number) => T): T[] => Array.from({ length: count }, (_, at) => make(at));

  it.each<[string, Readonly<Record<string, unknown>>, RegExp]>([
    ['columns', { columns: many(201, (at) => ({ name: `c${at}`, kind: 'text', title: 'C', help: 'C.' })) }, /^columns: Too big/],
    ['measures', { measures: many(201, (at) => measure(`m${at}`, { expression: 'cut_out' })) }, /^measures: Too big/],
    ['checks', { checks: many(301, (at) => ({ ...CHECK, check: `c${at}` })) }, /^checks: Too big/],
    ['conditions', { conditions: many(201, () => ({ checks: ['a'], recheck_when: 'cut_out > 1', say: 'x', source: SOURCE })) }, /^conditions: Too big/],
    ['parts of a measure', { measures: [measure('m', { highest_of: many(51, () => 'cut_out') })] }, /^measures\.0\.highest_of: Too big/],
    ['sentences of a measure', { measures: [measure('m', { expression: 'cut_out', says: many(21, () => ({ say: 'x' })) })] }, /^measures\.0\.says: Too big/],
    ['rechecks of a measure', { measures: [measure('m', { expression: 'cut_out', recheck: many(21, () => ({ when: 'cut_out > 1', say: 'x' })) })] }, /^measures\.0\.recheck: Too big/],
    ['spellings of a column', { columns: [{ name: 'c', kind: 'text', title: 'C', help: 'C.', spellings: many(201, String) }] }, /^columns\.0\.spellings: Too big/],
    ['choices of a column', { columns: [{ name: 'c', kind: 'choice', choices: many(101, String), title: 'C', help: 'C.' }] }, /^columns\.0\.choices: Too big/],
    ['characters of an expression', { measures: [measure('m', { expression: 'a'.repeat(1001) })] }, /^measures\.0\.expression: Too big/],
    ['characters of a title', { title: 'x'.repeat(121) }, /^title: Too big/],
    ['characters of a sentence', { measures: [measure('m', { expression: 'cut_out', says: [{ say: 'x'.repeat(301) }] })] }, /^measures\.0\.says\.0\.say: Too big/],
  ])('has no more than so many %s', (_what, parts, what) => {
    const set = { checks: [CHECK], ...parts };
    const found = refusal(() => parseLimitSet(ownSet(set), 'own.json'));
    expect(found).toStrictEqual({ code: 'limit_set_invalid', where: 'own.json', what: expect.stringMatching(what) as string });
  });

  it('of 300 checks is compiled; that its workbook has no room for them is said', async () => {
    const plan = ownPlan({ checks: many(300, (at) => ({ ...CHECK, check: `c${at}`, title: `C ${at}` })) });
    expect(plan.checks).toHaveLength(300);
    const fleet = await evaluateCells(plan, [['unit', 'inspected_on', 'cut_out'], ['T1', '2026-03-14', 120]]);
    expect(fleet.evaluations[0]!.verdict).toBe('fail');
    await expect(bytesOf(workbookOf(fleet))).rejects.toMatchObject({ code: 'expression_invalid', where: expect.stringMatching(/^column /) as string });
  });

  it('of more than a megabyte is not read', () => {
    expect(refusal(() => parseLimitSet(`${ownSet({ checks: [CHECK] })}${' '.repeat(1_000_000)}`, 'own.json'))).toStrictEqual({ code: 'limit_set_invalid', where: 'own.json', what: 'it is larger than 1 MB' });
    const folder = mkdtempSync(join(tmpdir(), 'limits-'));
    try {
      const path = join(folder, 'long.json');
      writeFileSync(path, '{}');
      truncateSync(path, 3_000_000_000); // A file with a hole: it takes no room.
      expect(refusal(() => loadLimitSet(path))).toStrictEqual({ code: 'limit_set_invalid', where: path, what: 'it is larger than 1 MB' });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it.each<[string, string]>([
    ['400,000 lists in lists', '['.repeat(400_000)],
    ['400,000 lists in lists, all closed', '['.repeat(400_000) + ']'.repeat(400_000)],
    ['100,000 objects in objects', `${'{"a":'.repeat(100_000)}1${'}'.repeat(100_000)}`],
    ['a list of 300,000 numbers for checks', ownSet({ checks: Array(300_000).fill(1) })],
    ['60,000 keys', JSON.stringify(Object.fromEntries(Array.from({ length: 60_000 }, (_, at) => [`k${at}`, 1])))],
    ['a key of 900,000 characters', JSON.stringify({ ['k'.repeat(900_000)]: 1 })],
    ['an id of 900,000 characters', ownSet({ id: 'x'.repeat(900_000), checks: [CHECK] })],
    ['a base of 900,000 characters', ownSet({ extends: 'x'.repeat(900_000), checks: [CHECK] })],
    ['numbers beyond any', ownSet({ checks: [CHECK] }).replace('"at_most":1', '"at_most":1e999')],
    ['a number for a text', ownSet({ checks: [CHECK], title: 5 })],
    ['two documents', '{}{}'],
    ['a comment', '/* x */ {}'],
    ['NaN', '{"version": NaN}'],
    ['a byte of zero', `{"id": "\u0000"}`],
  ])('of %s is refused in one short line', (_what, text) => {
    expect(refusal(() => parseLimitSet(text, 'own.json'))).toMatchObject({ code: 'limit_set_invalid', where: 'own.json' });
  });

  it('with keys that reach for prototypes is refused, and reaches none', () => {
    const before = watchPrototypes();
    for (const key of ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty', '__defineGetter__']) {
      const hostile = `${JSON.stringify(key)}:{"polluted":1,"checks":[],"prototype":{"polluted":1}}`;
      for (const place of ['{"format"', '{"check"', '{"citation"']) {
        const text = ownSet({ checks: [CHECK] }).replace(place, `{${hostile},${place.slice(1)}`);
        expect(text).toContain(key);
        expect(refusal(() => parseLimitSet(text, 'own.json')).what).toContain(`Unrecognized key: "${key}"`);
      }
    }
    expect(changedSince(before)).toStrictEqual([]);
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
  });

  it('with a key twice means the last, as JSON has it', () => {
    expect(parseLimitSet(ownSet({ checks: [CHECK] }).replace('"at_most":1', '"at_most":1,"at_most":2'), 'own.json').checks[0]!.at_most).toBe(2);
  });
});

describe('names of every object', () => {
  const NAMES = ['constructor', 'prototype', 'valueof', 'tostring', 'hasownproperty', 'null', 'undefined', 'true_', 'nan', 'this', 'length', 'name', 'arguments', 'get', 'set', 'has', 'then', 'tojson', 'isprototypeof'];

  it('are names of columns, measures and checks like others', async () => {
    const columns = NAMES.map((name) => ({ name: `${name}_column`, kind: 'pressure', title: name, help: 'x.' }));
    const measures = NAMES.map((name) => measure(name, { expression: `${name}_column + 1` }));
    const checks = NAMES.map((name) => ({ ...CHECK, check: name, title: name, measure: name, at_most: 100 }));
    const plan = ownPlan({ columns, measures, checks });
    const { checks: results, measures: values } = await evaluateRow(plan, Object.fromEntries(NAMES.map((name, at) => [`${name}_column`, at])));
    expect(results.map(({ check, verdict }) => [check, verdict])).toStrictEqual(NAMES.map((name) => [name, 'pass']));
    for (const [at, name] of NAMES.entries()) expect(values[name]).toBe(at + 1);
  });

  it('are an id like others', () => {
    for (const id of ['constructor', 'prototype', 'tostring', 'valueof', 'null']) expect(compileLimitSet(parseLimitSet(ownSet({ id, checks: [CHECK] }), 'own.json')).set.id).toBe(id);
    for (const id of ['__proto__', 'toString', '', ' ', '../x', 'a/b', 'a b', 'é', 'a'.repeat(61)]) expect(refusal(() => parseLimitSet(ownSet({ id, checks: [CHECK] }), 'own.json')).what).toMatch(/^id: /);
  });

  it('like patterns are words, in every place where the words of a set are matched', async () => {
    const patterns = ['(a+)+$', '.*', '[', '(?=', '\\', '$&', '^x{99999}', '(?<a>b)', "$'", '|'];
    const plan = ownPlan({ columns: [{ name: 'mine', kind: 'pressure', title: '(a+)+$', help: '.*', spellings: patterns, unitWords: patterns }], measures: [measure('m', { title: '$& [', expression: 'mine', says: [{ say: '$& $1 (a+)+$ {value}' }] })], checks: [{ ...CHECK, title: '.* $&', measure: 'm', at_most: 200 }] });
    for (const header of patterns.filter((pattern) => /[a-z]/i.test(pattern))) {
      const { checks } = await evaluateRow(plan, { [header]: 104 });
      expect(checks[0], header).toMatchObject({ verdict: 'pass', value: 104, reason: '.* $&: $& $1 (a+)+$ 104; at most 200 psi is allowed.' });
    }
    expect((await evaluateRow(plan, { [`${'a'.repeat(50)}!`]: 104 })).checks[0]!.verdict).toBe('not tested');
  });
});
