import { describe, expect, test } from 'vitest';
import { fieldsOfFacets, inContext } from '../../src/readings/checklist-facet-fields.js';
import type { CircuitName, LabelFacets, Moment } from '../../src/readings/checklist-label-facets.js';
import type { TestName } from '../../src/readings/checklist-test-name.js';

describe('fieldsOfFacets', () => {
  test.each<[TestName | null, CircuitName | null, Moment | null, string]>([
    ['released', 'primary', 'start', 'released_primary_start'],
    ['released', 'both', 'start', 'released_primary_start released_secondary_start'],
    ['released', 'both', 'end', 'released_primary_end released_secondary_end'],
    ['applied', 'secondary', 'end', 'applied_secondary_end'],
    ['released', null, 'time', 'released_time'],
    ['applied', 'both', 'time', 'applied_time'],
    ['applied', null, 'settle', 'applied_settle_time'],
    [null, null, 'settle', 'applied_settle_time'],
    ['light', null, null, 'light_on_at'],
    ['light and buzzer', null, null, 'light_on_at buzzer_on_at'],
    ['warning', null, null, 'light_on_at'],
    ['cut out', null, null, 'cut_out'],
    ['buildup', null, 'start', 'buildup_from'],
    ['buildup', null, 'end', 'buildup_to'],
    ['buildup', null, 'time', 'buildup_time'],
    ['buildup', null, null, 'buildup_time'],
    ['reserve', null, 'start', 'reserve_before'],
    ['reserve', null, 'end', 'reserve_after'],
  ])('%s, %s, %s: %s', (name, circuit, moment, fields) => {
    expect(fieldsOfFacets({ test: name, circuit, moment }).join(' ')).toBe(fields);
  });

  test.each<[string, TestName | null, CircuitName | null, Moment | null]>([
    ['no test', null, 'primary', 'start'],
    ['nothing at all', null, null, null],
    ['a circuit is left open', 'released', null, 'start'],
    ['a moment is left open', 'applied', 'primary', null],
    ['only the applied test settles', 'released', null, 'settle'],
    ['one pressure has no start', 'light', null, 'start'],
    ['a build-up does not settle', 'buildup', null, 'settle'],
    ['the reserve has two pressures', 'reserve', null, null],
    ['the reserve has no time', 'reserve', null, 'time'],
    ['the governor has two pressures', 'governor', null, null],
  ])('none: %s', (_, name, circuit, moment) => {
    expect(fieldsOfFacets({ test: name, circuit, moment })).toStrictEqual([]);
  });
});

describe('inContext', () => {
  const facets = (own: Partial<LabelFacets>): LabelFacets => ({ test: null, circuit: null, moment: 'start', unit: null, timeUnit: null, span: null, ...own });

  test('a label takes the test and the circuit of the headings above it', () => {
    expect(inContext(facets({}), { test: 'applied', circuit: 'primary' })).toStrictEqual(facets({ test: 'applied', circuit: 'primary' }));
  });

  test('what a label says itself goes before its headings', () => {
    expect(inContext(facets({ circuit: 'secondary' }), { test: 'applied', circuit: 'primary' })).toStrictEqual(facets({ test: 'applied', circuit: 'secondary' }));
  });

  test('the circuit of a heading holds for its own test only', () => {
    expect(inContext(facets({ test: 'released' }), { test: 'applied', circuit: 'primary' })).toStrictEqual(facets({ test: 'released' }));
  });
});
