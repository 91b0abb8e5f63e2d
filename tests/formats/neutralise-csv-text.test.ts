import fc from 'fast-check';
import { expect, it } from 'vitest';
import { neutraliseCsvText, restoreCsvText } from '../../src/formats/neutralise-csv-text.js';

it.each([
  ['=1+1', "'=1+1"],
  ["'=1+1", "''=1+1"],
  ['-', "'-"],
  ['-5-5', "'-5-5"],
  ['-5', '-5'],
  ['+12,5', '+12,5'],
  ["'-5", "''-5"],
  ['', ''],
  ['T-104', 'T-104'],
])('%j is written %j, and comes back', (text, written) => {
  expect(neutraliseCsvText(text)).toBe(written);
  expect(restoreCsvText(written)).toBe(text);
});

it('gives every text back', () => {
  fc.assert(
    fc.property(fc.stringMatching(/^['=+\-@\t\r\0 5.,a]{0,6}$/), (text) => {
      expect(restoreCsvText(neutraliseCsvText(text))).toBe(text);
    }),
    { numRuns: 2000 },
  );
});
