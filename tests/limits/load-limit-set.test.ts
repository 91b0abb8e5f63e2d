import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMIT_SET, limitSetIds, loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import type { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { ownSet, SOURCE } from '../support/evaluate-rows.js';
import { refusalOf } from '../support/refusal-of.js';

function refusal(work: () => unknown): Pick<TreadlebookError, 'code' | 'where' | 'what' | 'mend'> {
  const { code, where, what, mend, message } = refusalOf(work);
  expect(message).not.toMatch(/[\r\n]/);
  return { code, where, what, mend };
}

const CHECK = { check: 'cut_in', title: 'Cut-in', measure: 'cut_in', at_least: 80, unit: 'psi', source: SOURCE };
const SCHEMA_MEND = 'schemas/limit-set.schema.json describes the format';
const SETS = '`treadlebook limits` lists the sets; a file of your own ends in .json';

describe('loadLimitSet', () => {
  it('gives the shipped sets by name, and the common practice when none is named', () => {
    expect(limitSetIds()).toStrictEqual([...limitSetIds()].sort());
    expect(limitSetIds()).toEqual(expect.arrayContaining(['ca-ontario', 'common-practice', 'us-driver-licence-manual', 'us-nevada', 'us-new-hampshire']));
    for (const id of limitSetIds()) expect(loadLimitSet(id).id).toBe(id);
    expect(loadLimitSet()).toStrictEqual(loadLimitSet(DEFAULT_LIMIT_SET));
  });

  it.each([
    ['us-nevda', 'there is no limit set "us-nevda"', `did you mean us-nevada? ${SETS}`],
    ['US-Nevada', 'there is no limit set "US-Nevada"', `did you mean us-nevada? ${SETS}`],
    ['common practice', 'there is no limit set "common practice"', `did you mean common-practice? ${SETS}`],
    ['zzz', 'there is no limit set "zzz"', SETS],
    ['', 'there is no limit set ""', SETS],
    ['__proto__', 'there is no limit set "__proto__"', SETS],
    ['../../package', 'there is no limit set "../../package"', SETS],
  ])('refuses %j and names the nearest', (id, what, mend) => {
    expect(refusal(() => loadLimitSet(id))).toStrictEqual({ code: 'limit_set_unknown', where: undefined, what, mend });
  });

  it('loads a file, and names one that is not there', () => {
    const folder = mkdtempSync(join(tmpdir(), 'limits-'));
    try {
      const path = join(folder, 'mine.JSON');
      writeFileSync(path, `\uFEFF${ownSet({ checks: [CHECK] })}`);
      expect(loadLimitSet(path).checks.map(({ check }) => check)).toStrictEqual(['cut_in']);
      const absent = join(folder, 'absent.json');
      expect(refusal(() => loadLimitSet(absent))).toStrictEqual({ code: 'limit_set_unknown', where: absent, what: 'there is no such limit-set file', mend: 'check the path, or name a set that ships: `treadlebook limits` lists them' });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe('parseLimitSet refuses', () => {
  const ONE_OF = 'give exactly one of at_most, less_than, at_least, more_than, between, must_be, no_number';
  it.each<[string, Record<string, unknown>, string]>([
    ['a key of a check that is unknown', { checks: [{ ...CHECK, at_leest: 1 }] }, 'checks.0: Unrecognized key: "at_leest"'],
    ['a key of the file that is unknown', { checks: [CHECK], colour: 'red' }, 'the file: Unrecognized key: "colour"'],
    ['two comparators', { checks: [{ ...CHECK, at_most: 90 }] }, `checks.0: ${ONE_OF}`],
    ['no comparator', { checks: [{ ...CHECK, at_least: undefined }] }, `checks.0: ${ONE_OF}`],
    ['a limit that is no number', { checks: [{ ...CHECK, at_least: null }] }, 'checks.0.at_least: Invalid input'],
    ['a check without a source', { checks: [{ ...CHECK, source: undefined }] }, 'checks.0.source: Invalid input: expected object, received undefined'],
    ['a status that is none', { checks: [{ ...CHECK, source: { ...SOURCE, status: 'sure' } }] }, 'checks.0.source.status: Invalid option: expected one of "read"|"secondary"|"memory"|"common practice"'],
    ['a measure computed in two ways', { checks: [CHECK], measures: [{ measure: 'm', title: 'M', unit: 'psi', expression: 'cut_in', highest_of: ['cut_in', 'cut_out'], meaning: 'x' }] }, 'measures.0: give exactly one of expression, highest_of, lowest_of'],
    ['a name in capitals', { checks: [{ ...CHECK, check: 'Cut_In' }] }, 'checks.0.check: Invalid string: must match pattern /^[a-z][a-z0-9_]{0,59}$/'],
    ['another version', { version: 2, checks: [CHECK] }, 'version: Invalid input: expected 1'],
  ])('%s', (_what, parts, what) => {
    expect(refusal(() => parseLimitSet(ownSet(parts), 'own.json'))).toStrictEqual({ code: 'limit_set_invalid', where: 'own.json', what, mend: SCHEMA_MEND });
  });

  it('a set without checks', () => {
    expect(refusal(() => parseLimitSet(ownSet({}), 'own.json'))).toStrictEqual({ code: 'limit_set_invalid', where: 'own.json', what: 'the set has no checks', mend: 'add a check, or name a shipped set under "extends"' });
  });

  it('an extension of a set that is unknown, naming the place and the nearest', () => {
    expect(refusal(() => parseLimitSet(ownSet({ extends: 'us-nevda' }), 'own.json'))).toStrictEqual({ code: 'limit_set_unknown', where: 'own.json, extends', what: 'there is no limit set "us-nevda"', mend: `did you mean us-nevada? ${SETS}` });
    for (const base of ['own', '../common-practice', 'own.json']) expect(refusal(() => parseLimitSet(ownSet({ extends: base }), 'own.json')).code).toBe('limit_set_unknown');
  });

  it('what is no JSON, or no object', () => {
    expect(refusal(() => parseLimitSet('{', 'own.json'))).toMatchObject({ code: 'limit_set_invalid', where: 'own.json', mend: 'check commas, quotes and brackets' });
    for (const text of ['', '[]', 'null', '7', '"x"', '{}', ownSet({}).replace('{', '{"__proto__":{"checks":[]},')]) expect(refusal(() => parseLimitSet(text, 'own.json'))).toMatchObject({ code: 'limit_set_invalid', where: 'own.json' });
  });

  it('many faults in one line', () => {
    const { what } = refusal(() => parseLimitSet('{"checks":[{},{},{}]}', 'own.json'));
    expect(what).toMatch(/^format: .*; version: .*; id: .*; and \d+ more$/);
  });
});

describe('a set that extends another', () => {
  it('puts the base first, and its own check in the place of one of the same name, with its conditions', () => {
    const base = loadLimitSet('common-practice');
    const condition = { checks: ['warning'], recheck_when: 'light_on_at > 100', say: 'high', source: SOURCE };
    const own = parseLimitSet(ownSet({ extends: 'common-practice', checks: [{ ...CHECK, check: 'released_loss', measure: 'released_loss', at_least: undefined, at_most: 1, unit: 'psi/min' }, CHECK], conditions: [condition] }), 'own.json');
    expect(own).toMatchObject({ id: 'own', title: 'Own', notice: 'For a test.' });
    expect(own.checks.map(({ check, at_most }) => [check, at_most])).toStrictEqual([['applied_loss', 4], ['warning', undefined], ['buildup', 5], ['released_loss', 1], ['cut_in', undefined]]);
    expect(own.conditions.map(({ checks }) => checks)).toStrictEqual([...base.conditions.map(({ checks }) => checks).filter(([check]) => check !== 'released_loss'), ['warning']]);
  });

  it('keeps the columns and measures of the base', () => {
    const own = parseLimitSet(ownSet({ extends: 'us-washington-air-over-hydraulic' }), 'own.json');
    expect(own.measures.map(({ measure }) => measure)).toStrictEqual(['stated_loss']);
    expect(own.checks).toStrictEqual(loadLimitSet('us-washington-air-over-hydraulic').checks);
  });

  it('is whole in itself: written out and read again it is the same', () => {
    const own = parseLimitSet(ownSet({ extends: 'us-new-hampshire', checks: [CHECK] }), 'own.json');
    const again = parseLimitSet(JSON.stringify(own), 'again.json');
    expect(JSON.stringify(again)).toBe(JSON.stringify(own));
  });
});

describe('the shipped sets', () => {
  it.each(limitSetIds())('%s says where every number comes from', (id) => {
    const { checks, conditions, notice, authority } = loadLimitSet(id);
    expect(notice).toMatch(/not an inspection/);
    expect(authority).not.toBe('');
    for (const { source } of [...checks, ...conditions]) expect(source.citation.length).toBeGreaterThan(5);
    // What has no authority says so.
    for (const { source } of [...checks, ...conditions]) if (source.status === 'common practice') expect(source.citation).toMatch(/common practice, no source/);
  });
});
