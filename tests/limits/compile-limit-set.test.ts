import { describe, expect, it } from 'vitest';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetIds, loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { namesIn } from '../../src/expressions/tree.js';
import { FACTS_USED } from '../../src/limits/facts-used.js';
import { ownPlan, ownSet, SOURCE } from '../support/evaluate-rows.js';

const CHECK = { check: 'a', title: 'A', measure: 'cut_out', at_most: 1, unit: 'psi', source: SOURCE };
const WITHOUT = { ...CHECK, at_most: undefined };
const MEASURE = { measure: 'm', title: 'M', unit: 'psi', expression: 'cut_out', meaning: 'A measure.' };
const FIELD = { name: 'mine', kind: 'pressure', title: 'Mine', help: 'Mine.' };
const condition = (say: string, recheck_when = 'cut_out > 1', check = 'a') => ({ checks: [CHECK], conditions: [{ checks: [check], recheck_when, say, source: SOURCE }] });

describe('compileLimitSet refuses, with the place and the mend', () => {
  it.each<[string, Record<string, unknown>, string, string, string]>([
    ['an unknown measure', { checks: [{ ...CHECK, measure: 'cut_oot' }] }, 'check a', 'no measure is named cut_oot', 'did you mean cut_out?'],
    ['a measure far from any', { checks: [{ ...CHECK, measure: 'zzzzzz' }] }, 'check a', 'no measure is named zzzzzz', 'define it under measures'],
    ['an unknown name in a limit', { checks: [{ ...CHECK, at_most: '0.5 * cut_oot' }] }, 'check a, at_most', 'the expression "0.5 * cut_oot" is not valid: the name cut_oot is unknown', 'did you mean cut_out?'],
    ['an unknown name in when', { checks: [{ ...CHECK, when: 'vehicless == 1' }] }, 'check a, when', 'the expression "vehicless == 1" is not valid: the name vehicless is unknown', 'did you mean vehicles?'],
    ['a when that is no condition', { checks: [{ ...CHECK, when: 'vehicles' }] }, 'check a, when', 'the expression "vehicles" gives a number', 'write a comparison'],
    ['a limit that is a condition', { checks: [{ ...CHECK, at_most: 'vehicles == 1' }] }, 'check a, at_most', 'the expression "vehicles == 1" gives a yes/no', 'write a number or arithmetic'],
    ['an expression that cannot be parsed', { checks: [{ ...CHECK, at_most: '2 *' }] }, 'check a, at_most', 'the expression "2 *" is not valid: it cannot be parsed: Unexpected end of expression (char 4)', 'check brackets, commas and operators'],
    ['an expression that is not allowed', { checks: [{ ...CHECK, at_most: 'cut_out.constructor' }] }, 'check a, at_most', 'the expression "cut_out.constructor" is not valid: a member of a name is not part of the expression language', 'use plain names'],
    ['a date in an expression', { measures: [{ ...MEASURE, expression: 'inspected_on' }], checks: [CHECK] }, 'measure m, expression', 'the expression "inspected_on" is not valid: the name inspected_on is unknown', 'did you mean inspector?'],
    ['an unknown unit', { checks: [{ ...CHECK, unit: 'inHg' }] }, 'check a', 'the unit "inHg" does not fit the measure cut_out', 'use psi or kPa or bar or MPa'],
    ['a unit of another kind', { checks: [{ ...CHECK, unit: 's' }] }, 'check a', 'the unit "s" does not fit the measure cut_out', 'use psi or kPa or bar or MPa'],
    ['a measure in a unit that measures are not kept in', { measures: [{ ...MEASURE, unit: 'kPa' }], checks: [CHECK] }, 'measure m', 'the unit "kPa" is not one that measures are kept in', 'use psi, psi/min, s, psi/s, share, or an empty text'],
    ['a column that exists', { columns: [{ ...FIELD, name: 'cut_out' }], checks: [CHECK] }, 'columns, cut_out', 'a column of this name exists already', 'give the added column a name of its own'],
    ['a column twice', { columns: [FIELD, FIELD], checks: [CHECK] }, 'columns, mine', 'a column of this name exists already', 'give the added column a name of its own'],
    ['a measure that exists', { measures: [{ ...MEASURE, measure: 'cut_out' }], checks: [CHECK] }, 'measure cut_out', 'a measure of this name exists already', 'give it a name of its own'],
    ['a measure of itself', { measures: [{ ...MEASURE, expression: 'm + 1' }], checks: [CHECK] }, 'measure m, expression', 'the expression "m + 1" is not valid: the name m is unknown', '`treadlebook fields` lists the readings, `treadlebook limits` the measures'],
    ['the highest of a measure that is not above it', { measures: [{ ...MEASURE, expression: undefined, highest_of: ['cut_in', 'cut_oot'] }], checks: [CHECK] }, 'measure m', 'no measure above it is named cut_oot', 'did you mean cut_out?'],
    ['the highest of measures of different units', { measures: [{ ...MEASURE, expression: undefined, highest_of: ['cut_in', 'buildup_time'] }], checks: [CHECK] }, 'measure m', 'buildup_time is in "s", not in "psi"', 'name measures in the unit of this one'],
    ['the highest of a yes/no', { measures: [{ ...MEASURE, measure: 'p', unit: '', expression: 'audible_leak' }, { ...MEASURE, unit: '', expression: undefined, lowest_of: ['p', 'p'] }], checks: [CHECK] }, 'measure m', 'p is no number', 'name measures in the unit of this one'],
    ['a hold over what is no time', { measures: [{ ...MEASURE, held_for: 'site' }], checks: [CHECK] }, 'measure m', 'held_for names site, which is no time reading', 'name the time reading of the test'],
    ['an alternative without when that is not the last', { checks: [CHECK, { ...CHECK, when: 'vehicles == 1' }] }, 'check a', 'an alternative without `when` hides those below it', 'put it last, or give it a `when`'],
    ['alternatives of different measures', { checks: [{ ...CHECK, when: 'vehicles == 1' }, { ...CHECK, measure: 'cut_in' }] }, 'check a', 'its alternatives differ in measure, comparator, title, optional, either_of or without_ends', 'give the one that differs a name of its own'],
    ['alternatives of different comparators', { checks: [{ ...CHECK, when: 'vehicles == 1' }, { ...WITHOUT, at_least: 1 }] }, 'check a', 'its alternatives differ in measure, comparator, title, optional, either_of or without_ends', 'give the one that differs a name of its own'],
    ['ends the wrong way round', { checks: [{ ...WITHOUT, between: [45, 20] }] }, 'check a, between', 'the lower end 45 is above the upper end 20', 'put the lower end first'],
    ['must_be of a number', { checks: [{ ...WITHOUT, must_be: 'no' }] }, 'check a', 'the measure cut_out is a number', 'must_be is for yes/no measures'],
    ['a number against a yes/no', { measures: [{ ...MEASURE, unit: '', expression: 'audible_leak' }], checks: [{ ...CHECK, measure: 'm', unit: '' }] }, 'check a', 'the measure m is a yes/no', 'use must_be for a yes/no measure'],
    ['a check of a text', { measures: [{ ...MEASURE, unit: '', expression: 'site' }], checks: [{ ...CHECK, measure: 'm', unit: '' }] }, 'check a', 'the measure m is a text', 'compare it in the measure, to get a yes/no'],
    ['a condition of an unknown check', condition('x', 'cut_out > 1', 'b'), 'condition 1 of b', 'no check is named b', 'did you mean a?'],
    ['a condition that is a number', condition('x', 'cut_out'), 'condition 1 of a, recheck_when', 'the expression "cut_out" gives a number', 'write a comparison'],
    ['a sentence with an unknown name', condition('x {cut_oot}'), 'condition 1 of a, say', '{cut_oot} names no number or text', 'put the name of a reading or measure between the braces'],
    ['a sentence with a word that is unknown', condition('x {entred cut_out}'), 'condition 1 of a, say', '{entred cut_out} is not understood', 'write {NAME}, {entered NAME} for a pressure, {duration NAME} for a number or {value}'],
    ['a count as entered', condition('x {entered vehicles}'), 'condition 1 of a, say', '{entered vehicles} is not understood', 'write {NAME}, {entered NAME} for a pressure, {duration NAME} for a number or {value}'],
    ['a brace without a partner', condition('x {cut_out'), 'condition 1 of a, say', 'a brace in the sentence has no partner', 'write readings as {NAME}'],
    ['a measure whose column has the name of a check\'s', { measures: [{ ...MEASURE, measure: 'a_limit' }], checks: [CHECK] }, 'column computed.a_limit', 'two computed columns would have this name', 'give the measure or check that it comes from another name'],
    ['a measure named verdict', { measures: [{ ...MEASURE, measure: 'verdict' }], checks: [CHECK] }, 'column computed.verdict', 'two computed columns would have this name', 'give the measure or check that it comes from another name'],
  ])('%s', (_what, parts, where, what, mend) => {
    const set = parseLimitSet(ownSet(parts), 'own.json');
    let found: unknown;
    try {
      compileLimitSet(set);
    } catch (error) {
      found = error;
    }
    expect(found).toBeInstanceOf(TreadlebookError);
    const error = found as TreadlebookError;
    expect({ code: error.code, where: error.where, what: error.what, mend: error.mend }).toStrictEqual({ code: 'limit_set_invalid', where, what, mend });
  });
});

describe('a compiled limit set', () => {
  it.each(limitSetIds())('%s: every column can be computed from what stands before it', (id) => {
    const plan = compileLimitSet(loadLimitSet(id));
    const known = new Set([...plan.dictionary.fields.map(({ name }) => name), ...plan.dictionary.fields.map(({ name }) => `entered:${name}`), ...FACTS_USED.map(({ fact }) => `fact:${fact}`), ...plan.cells.map(({ name }) => name)]);
    for (const { id: column, tree } of plan.columns) {
      if (tree !== null) expect([...namesIn(tree)].filter((name) => !known.has(name)), column).toStrictEqual([]);
      known.add(column);
    }
  });

  it('puts every number of a limit and of a condition into a cell of its own', () => {
    const plan = compileLimitSet(loadLimitSet('us-nevada'));
    expect(plan.cells).toStrictEqual([
      { name: 'limit:released_loss:1', value: 2 },
      { name: 'limit:released_loss:2', value: 3 },
      { name: 'limit:released_loss:3', value: 5 },
      { name: 'limit:applied_loss:1', value: 3 },
      { name: 'limit:applied_loss:2', value: 4 },
      { name: 'limit:applied_loss:3', value: 6 },
      { name: 'limit:buildup:1', value: 5 },
      { name: 'condition:released_loss:1', value: 60 },
      { name: 'condition:applied_loss:1', value: 60 },
      { name: 'limit:interval:months', value: 12 },
    ]);
    expect(compileLimitSet(loadLimitSet('us-new-hampshire')).cells).toContainEqual({ name: 'limit:warning:1', value: 0.5 });
    expect(compileLimitSet(loadLimitSet('us-driver-licence-manual')).cells).toContainEqual({ name: 'limit:parking_valve:1_high', value: 45 });
  });

  it('has a hash that follows the content and not the order of keys', () => {
    const plain = ownPlan({ checks: [CHECK] });
    const { source, ...rest } = CHECK;
    expect(ownPlan({ checks: [{ source, ...rest }] }).sha256).toBe(plain.sha256);
    expect(ownPlan({ checks: [{ ...CHECK, at_most: 2 }] }).sha256).not.toBe(plain.sha256);
    expect(plain.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  it('takes names that every object has', () => {
    const plan = ownPlan({ measures: [{ ...MEASURE, measure: 'constructor' }], checks: [{ ...CHECK, check: 'constructor', measure: 'constructor' }] });
    expect(plan.checks.map(({ check }) => check)).toStrictEqual(['constructor']);
  });
});
