import { describe, expect, it } from 'vitest';
import { fieldDictionary, fieldPosition } from '../../src/readings/dictionary.js';
import type { Field } from '../../src/readings/field.js';
import { readEntry, type EntryContext } from '../../src/readings/read-entry.js';
import { foundBeside, foundText, keptThatFits } from '../../src/readings/texts-found.js';
import type { RawCell } from '../../src/util/raw-table.js';

const dictionary = fieldDictionary();
const field = (name: string): Field => dictionary.fields[fieldPosition(dictionary, name)]!;
const CONTEXT: EntryContext = { unit: 'psi', columnUnit: null, dateOrder: null, date1904: false };

describe('what a cell says as text', () => {
  it.each<[RawCell, string]>([
    [null, ''],
    ['104 psi', '104 psi'],
    [104.5, '104.5'],
    [true, 'TRUE'],
    [false, 'FALSE'],
    // 46095 is 2026-03-14 (ECMA-376 Part 1, 18.17.4).
    [{ value: 46095, format: 'yyyy-mm-dd' }, '2026-03-14 (yyyy-mm-dd)'],
    [{ value: 250 / 1440, format: 'h:mm' }, '4:10 (h:mm)'],
  ])('%j is %s', (cell, text) => expect(foundText(cell)).toBe(text));
});

describe('a text kept beside a cell', () => {
  const fits = (name: string, entry: Parameters<typeof keptThatFits>[1], text: string, context = CONTEXT): string | null => keptThatFits(field(name), entry, new Map([[name, text]]), context);

  it('fits where it means what the cell holds, to the last digits of a conversion', () => {
    expect(fits('cut_in', 100, '98-102')).toBe('98-102');
    expect(fits('cut_in', 110, '98-102')).toBeNull();
    // 700 kPa are 101.526 416 411 psi (NIST SP 811, Appendix B.8); the other two are off by 1e-12 and by 1e-6 of it.
    const psi = 700 / 6.894757293168361;
    expect([fits('cut_in', psi, '700 kPa'), fits('cut_in', psi * (1 + 1e-12), '700 kPa'), fits('cut_in', psi * (1 + 1e-6), '700 kPa'), fits('cut_in', -psi, '700 kPa')]).toStrictEqual(['700 kPa', '700 kPa', null, null]);
    expect([fits('unit', 'K-1', 'K-1'), fits('unit', 'K-2', 'K-1'), fits('cut_in', 'never', '100')]).toStrictEqual(['K-1', null, null]);
  });

  it('fits a blank cell where it says that nothing was measured, and not where it was not understood', () => {
    expect([fits('cut_in', null, 'n/a'), fits('cut_in', null, 'low'), fits('cut_in', null, '100')]).toStrictEqual(['n/a', null, null]);
  });

  it('fits a date in either order of day and month, and no other kind', () => {
    const either = '3/4/2026';
    expect([fits('inspected_on', '2026-04-03', either), fits('inspected_on', '2026-03-04', either), fits('inspected_on', '2026-03-05', either)]).toStrictEqual([either, either, null]);
    expect(fits('inspected_on', '2026-04-03', either, { ...CONTEXT, dateOrder: 'mdy' })).toBe(either);
  });

  it('is none for a field that has none', () => expect(keptThatFits(field('cut_in'), 100, new Map([['cut_out', '100']]), CONTEXT)).toBeNull());
});

describe('the text as found beside a reading', () => {
  const beside = (name: string, cell: RawCell, column: { readonly unit?: 'kPa' | 'psi'; readonly timeUnit?: 'min' } = {}): string | null => {
    const at = { unit: column.unit ?? null, timeUnit: column.timeUnit ?? null };
    const context = { ...CONTEXT, columnUnit: at.unit, columnTimeUnit: at.timeUnit };
    return foundBeside(field(name), cell, readEntry(field(name), cell, context), at, CONTEXT);
  };

  it('is none where the text is the value, or the cell a number', () => {
    expect([beside('cut_in', '100'), beside('cut_in', 100), beside('buildup_time', '4:10'), beside('cut_in', '100', { unit: 'psi' })]).toStrictEqual([null, null, null, null]);
  });

  it('is the text where it says more', () => {
    expect([beside('cut_in', '98-102'), beside('buildup_time', '250 s'), beside('audible_leak', 'Y')]).toStrictEqual(['98-102', '250 s', 'Y']);
  });

  it('has the unit of its header where that is another, or the time would be read otherwise', () => {
    expect([beside('cut_in', '700', { unit: 'kPa' }), beside('cut_in', 700, { unit: 'kPa' }), beside('cut_in', '100 psi', { unit: 'kPa' })]).toStrictEqual(['700 kPa', '700 kPa', '100 psi']);
    expect(beside('buildup_time', '4', { timeUnit: 'min' })).toBe('4 min');
  });

  it('is what is not understood below any header', () => {
    expect([beside('cut_in', 'low'), beside('cut_in', 'low', { unit: 'kPa' }), beside('released_time', '790', { timeUnit: 'min' })]).toStrictEqual(['low', 'low', '790 min']);
  });
});
