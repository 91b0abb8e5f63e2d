import { describe, expect, test } from 'vitest';
import { NO_CONTEXT } from '../../src/readings/checklist-facet-fields.js';
import { headingContext, isNumberedHeading, looksLikeHeading } from '../../src/readings/checklist-headings.js';
import type { LabelFacets } from '../../src/readings/checklist-label-facets.js';
import type { ReadLabel } from '../../src/readings/checklist-label-reader.js';

const read = (facets: Partial<LabelFacets> | null, fields: readonly string[] = []): ReadLabel => ({
  fields,
  facets: facets && { test: null, circuit: null, moment: null, unit: null, timeUnit: null, span: null, ...facets },
  unit: null,
  timeUnit: null,
});

describe('the headings of a form', () => {
  test('a test in a heading puts an end to the circuit of the heading before it', () => {
    expect(headingContext(read({ test: 'applied' }), { test: 'released', circuit: 'primary' })).toStrictEqual({ test: 'applied', circuit: null });
    expect(headingContext(read({ test: 'applied', circuit: 'secondary' }), NO_CONTEXT)).toStrictEqual({ test: 'applied', circuit: 'secondary' });
  });

  test('a circuit in a heading holds for the test above it', () => {
    expect(headingContext(read({ circuit: 'secondary' }), { test: 'released', circuit: 'primary' })).toStrictEqual({ test: 'released', circuit: 'secondary' });
  });

  test.each<[string, ReadLabel]>([
    ['a label that is not understood', read(null)],
    ['one reading of a test', read({ test: 'applied', moment: 'start' })],
    ['a moment alone', read({ moment: 'end' })],
    ['a circuit that names a field in its place', read({ circuit: 'primary' }, ['buildup_time'])],
    ['words that say nothing', read({})],
  ])('no heading: %s', (_, label) => {
    expect(headingContext(label, { test: 'released', circuit: 'primary' })).toBeNull();
  });

  test.each(['Inspection 2', 'insp. no. 3', 'Report #7', 'Record number: 12', 'Sheet 1 of 3', 'Form 4.', 'Vehicles 2', `Inspection ${'1'.repeat(49)}`])('begins an inspection: %s', (text) => {
    expect(isNumberedHeading(text)).toBe(true);
  });

  test.each(['Inspection', 'Inspection two', 'Inspection 2 of the month', 'Third inspection 3', 'Unit 7', `Inspection ${'1'.repeat(50)}`])('begins none: %s', (text) => {
    expect(isNumberedHeading(text)).toBe(false);
  });

  test.each(['Brakes', 'Interior and lights:', 'Nos. of parts', 'Really?! no', 'a'.repeat(60)])('can be a heading: %s', (text) => {
    expect(looksLikeHeading(text)).toBe(true);
  });

  test.each(['Section 2', 'All is well.', 'Watch out!', 'Why?', 'so;', 'Checked: ok', 'Checked:ok', '---', '', 'a'.repeat(61)])('is something written down, or nothing: %s', (text) => {
    expect(looksLikeHeading(text)).toBe(false);
  });
});
