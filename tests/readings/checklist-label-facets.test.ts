import { describe, expect, test } from 'vitest';
import { foldLabel } from '../../src/readings/checklist-fold-label.js';
import { labelFacets, type LabelFacets } from '../../src/readings/checklist-label-facets.js';

const facets = (text: string): LabelFacets | null => labelFacets(foldLabel(text));
const says = (own: Partial<LabelFacets>): LabelFacets => ({ test: null, circuit: null, moment: null, unit: null, timeUnit: null, span: null, ...own });

describe('labelFacets', () => {
  test.each<[string, Partial<LabelFacets>]>([
    ['static test, primary tank, before', { test: 'released', circuit: 'primary', moment: 'start' }],
    ['Brakes released: both tanks, start', { test: 'released', circuit: 'both', moment: 'start' }],
    ['Primary after 1 min', { circuit: 'primary', moment: 'end' }],
    ['Primary at 2 minutes', { circuit: 'primary', moment: 'end' }],
    ['Primary, 1 min, start', { circuit: 'primary', moment: 'start' }],
    ['Secondary end, engine off', { circuit: 'secondary', moment: 'end' }],
  ])('which test, which circuit, which reading: %s', (text, own) => {
    expect(facets(text)).toStrictEqual(says(own));
  });

  test.each<[string, Partial<LabelFacets>]>([
    ['Sec. start', { circuit: 'secondary', moment: 'start' }],
    ['Brakes applied - sec. end', { test: 'applied', circuit: 'secondary', moment: 'end' }],
    ['Time (sec)', { moment: 'time', timeUnit: 's' }],
    ['Sec', { moment: 'time', timeUnit: 's' }],
  ])('sec is the gauge beside a reading, and else a unit: %s', (text, own) => {
    expect(facets(text)).toStrictEqual(says(own));
  });

  test.each<[string, Partial<LabelFacets>]>([
    ['Duration', { moment: 'time' }],
    ['Brakes applied, minutes', { test: 'applied', moment: 'time', timeUnit: 'min' }],
    ['Build-up seconds', { test: 'buildup', moment: 'time', timeUnit: 's' }],
    ['Time, m', { moment: 'time', timeUnit: 'min' }],
    ['Time (s)', { moment: 'time', timeUnit: 's' }],
    ['Duration mm:ss', { moment: 'time' }],
    ['Settling time', { moment: 'settle' }],
    ['Time to settle (min)', { moment: 'settle', timeUnit: 'min' }],
    ['Settle time (s)', { moment: 'settle', timeUnit: 's' }],
    ['Stabilised for (ss)', { moment: 'settle', timeUnit: 's' }],
  ])('times and their units: %s', (text, own) => {
    expect(facets(text)).toStrictEqual(says(own));
  });

  test.each<[string, Partial<LabelFacets>]>([
    ['Cut-in (kPa)', { test: 'cut in', unit: 'kPa' }],
    ['Cut-in psi', { test: 'cut in', unit: 'psi' }],
    ['Build-up time 85-100 psi', { test: 'buildup', moment: 'time', unit: 'psi', span: [85, 100] }],
    ['Build-up from 5.9 to 6.9 bar', { test: 'buildup', unit: 'bar', span: [5.9, 6.9] }],
  ])('pressures and their units: %s', (text, own) => {
    expect(facets(text)).toStrictEqual(says(own));
  });

  test.each([
    ['another word', 'Primary start of the shift'],
    ['two units', 'Cut-in kPa/bar'],
    ['two readings', 'Primary start and end'],
    ['two gauges', 'Primary and secondary start'],
    ['two gauges, one of them short', 'Primary sec'],
    ['two tests', 'Light and cut-in'],
    ['a span that no build-up has', 'Primary start 85-100'],
    ['a letter where no time is meant', 'Primary start m'],
  ])('not understood, for %s: %s', (_, text) => {
    expect(facets(text)).toBeNull();
  });
});

describe('the test that a label names', () => {
  test.each([
    ['Reserve before', 'reserve'],
    ['After one full application', 'reserve'],
    ['Reserve, service brakes applied, after', 'reserve'],
    ['Service brakes applied', 'applied'],
    ['Foot off', 'released'],
    ['Parking brake off', 'released'],
    ['Parking brakes released, foot off', 'released'],
    ['Parking brakes off, service brakes applied', 'applied'],
    ['Low air warning', 'warning'],
    ['Low air warning light', 'light'],
    ['Low air warning buzzer', 'buzzer'],
    ['Low air warning light and buzzer', 'light and buzzer'],
    ['Air compressor', 'buildup'],
    ['Compressor build-up', 'buildup'],
    ['Compressor cut-in', 'cut in'],
    ['Compressor cut-out', 'cut out'],
    ['Governor', 'governor'],
    ['Governor cut-in', 'cut in'],
    ['Governor cut-out', 'cut out'],
    ['Parking valve', 'parking valve'],
    ['Spring brake knob pops out', 'parking valve'],
    ['Trailer supply valve', 'trailer valve'],
    ['Tractor protection', 'trailer valve'],
    ['Tractor protection valve closes', 'trailer valve'],
  ])('%s: %s', (text, name) => {
    expect(facets(text)?.test).toBe(name);
  });

  test.each([
    ['Parking brake off, low air light'],
    ['Low air warning, build-up'],
    ['Low air warning, brakes applied'],
    ['Low air warning cut-in'],
    ['Compressor light'],
    ['Governor build-up'],
    ['Governor light'],
    ['Parking and trailer valve'],
    ['Parking brake'],
    ['Trailer'],
    ['Spring brake'],
  ])('two tests, or half of one, are none: %s', (text) => {
    expect(facets(text)).toBeNull();
  });
});
