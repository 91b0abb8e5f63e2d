import { beforeEach, describe, expect, test } from 'vitest';
import { NO_CONTEXT } from '../../src/readings/checklist-facet-fields.js';
import { LabelReader } from '../../src/readings/checklist-label-reader.js';
import { dictionary } from './reshape-support.js';

let labels: LabelReader;
beforeEach(() => {
  labels = new LabelReader(dictionary);
});

describe('LabelReader, fields named outright', () => {
  test.each<[string, string]>([
    ['Unit no', 'unit'],
    ['TRUCK NUMBER:', 'unit'],
    ['Date of inspection', 'inspected_on'],
    ['Date (dd/mm/yyyy)', 'inspected_on'],
    ['Notes (optional)', 'notes'],
    ['Odometer (km)', 'odometer'],
    ['Odometer (MILES)', 'odometer'],
    ['Released time (mm:ss)', 'released_time'],
    ...['min', 'mins', 'minute', 'minutes', 'sec', 'secs', 'second', 'seconds', 's', 'm'].map((unit) => [`Released time (${unit})`, 'released_time'] as [string, string]),
  ])('%s: %s', (text, name) => {
    expect(labels.named(text)).toStrictEqual({ name, unit: null });
  });

  test.each([
    ['Cut-in (kPa)', 'kPa'],
    ['Cut-in [bar] :', 'bar'],
    ['Cut-in kPa:', 'kPa'],
    ['Cut-in,  kPa .', 'kPa'],
    ['Cut-in p.s.i.', 'psi'],
  ])('a pressure with its unit: %s', (text, unit) => {
    expect(labels.named(text)).toStrictEqual({ name: 'cut_in', unit });
  });

  test('a dot leader behind the unit says nothing', () => {
    expect(labels.named('Relief valve opens at, kPa ......:')).toStrictEqual({ name: 'relief_valve_opens_at', unit: 'kPa' });
  });

  test.each([
    ['a label of the office', 'Belt tension'],
    ['a label of the office, with a unit', 'Belt tension (kPa)'],
    ['a label of the office, with a word that says nothing', 'Belt (optional)'],
    ['a distance in a unit of pressure', 'Odometer (psi)'],
    ['a distance in a unit of pressure, without brackets', 'Odometer psi'],
    ['a distance in another unit', 'Odometer (furlongs)'],
    ['a time in another unit', 'Released time (hours)'],
    ['a time in something that begins like a unit', 'Released time (minx)'],
    ['a time in something that ends like a unit', 'Released time (xmin)'],
    ['a pressure in minutes', 'Cut-in (min)'],
    ['a pressure in psi, and no more', 'Cut-in psi 3'],
    ['nothing', ''],
  ])('none: %s', (_, text) => {
    expect(labels.named(text)).toBeNull();
  });

  test('a label has at most 120 letters', () => {
    expect(labels.named(`Unit${'.'.repeat(116)}`)).toStrictEqual({ name: 'unit', unit: null });
    expect(labels.named(`Unit${'.'.repeat(117)}`)).toBeNull();
    expect(labels.facets(`Static test${'.'.repeat(109)}`)?.test).toBe('released');
    expect(labels.facets(`Static test${'.'.repeat(110)}`)).toBeNull();
  });

  test('a number says nothing', () => {
    expect(labels.facets('105')).toBeNull();
    expect(labels.facets('--')).toBeNull();
  });
});

describe('LabelReader, below headings', () => {
  test('a field named outright is itself, wherever it stands', () => {
    expect(labels.read('Released time (min)', { test: 'applied', circuit: 'primary' })).toStrictEqual({ fields: ['released_time'], facets: null, unit: null, timeUnit: 'min' });
    expect(labels.read('Cut-in (kPa)', NO_CONTEXT)).toStrictEqual({ fields: ['cut_in'], facets: null, unit: 'kPa', timeUnit: null });
  });

  test('words that are not understood are nothing', () => {
    expect(labels.read('Belt tension', { test: 'applied', circuit: 'primary' })).toStrictEqual({ fields: [], facets: null, unit: null, timeUnit: null });
  });

  test('what a label leaves open is taken from the headings', () => {
    expect(labels.read('Start (kPa)', { test: 'applied', circuit: 'primary' })).toMatchObject({ fields: ['applied_primary_start'], unit: 'kPa' });
    expect(labels.read('Start', { test: 'applied', circuit: null }).fields).toStrictEqual([]);
  });

  test('a label that says nothing must at least speak of a reading', () => {
    const below = { test: 'light', circuit: null } as const;
    expect(labels.read('Came on at', below).fields).toStrictEqual(['light_on_at']);
    expect(labels.read('Pressure', below).fields).toStrictEqual(['light_on_at']);
    expect(labels.read('Tank', below).fields).toStrictEqual([]);
    expect(labels.read('Pressure', NO_CONTEXT).fields).toStrictEqual([]);
  });

  test('a label that names only the gauge reads the test above it', () => {
    expect(labels.read('Primary tank', { test: 'warning', circuit: null }).fields).toStrictEqual(['light_on_at']);
    expect(labels.read('Minutes', { test: 'buildup', circuit: null }).fields).toStrictEqual(['buildup_time']);
  });
});
