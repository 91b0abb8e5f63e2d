import { describe, expect, it } from 'vitest';
import { fieldDictionary, fieldPosition } from '../../src/readings/dictionary.js';
import { entryText } from '../../src/readings/entry-text.js';
import type { Field } from '../../src/readings/field.js';

const dictionary = fieldDictionary();
const field = (name: string): Field => dictionary.fields[fieldPosition(dictionary, name)]!;

describe('what was understood, written the plain way', () => {
  it('is blank, a yes or no, a time, a number or a text', () => {
    expect([entryText(field('cut_in'), null), entryText(field('audible_leak'), true), entryText(field('audible_leak'), false), entryText(field('buildup_time'), 250), entryText(field('cut_in'), 250), entryText(field('unit'), 'K-1')]).toStrictEqual(['', 'yes', 'no', '4:10', '250', 'K-1']);
  });
});
