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
  // The starts that OWASP, "CSV Injection", lists: the signs, tab, line breaks, and the signs in full width.
  ['\t=1+1', "'\t'=1+1"],
  ['\r=1+1', "'\r'=1+1"],
  ['\n=1+1', "'\n'=1+1"],
  ['\0=1+1', "'\0=1+1"],
  ['＝1+1', "'＝1+1"],
  ['＋1', "'＋1"],
  ['－1', "'－1"],
  ['＠SUM(1)', "'＠SUM(1)"],
  // Spaces before the sign.
  [' =1+1', "' =1+1"],
  ['\u00a0\u3000@SUM(1)', "'\u00a0\u3000@SUM(1)"],
  [' -5', ' -5'],
  // A sign where a program that parts cells otherwise would begin one.
  [';=1+1', ";'=1+1"],
  ['hose;=1+1;', "hose;'=1+1;"],
  ['hose,@SUM(1)', "hose,'@SUM(1)"],
  ['hose|\'=1', "hose|''=1"],
  ['hose\t+1+1', "hose\t'+1+1"],
  ['first\n=1+1', "first\n'=1+1"],
  ['first\r\n-1-1', "first\r\n'-1-1"],
  ['worn, - left', 'worn, - left'],
  ['104;-5;x', '104;-5;x'],
  ['104;-5-5', "104;'-5-5"],
  ['well - known, left-right; a = b', 'well - known, left-right; a = b'],
])('%j is written %j, and comes back', (text, written) => {
  expect(neutraliseCsvText(text)).toBe(written);
  expect(restoreCsvText(written)).toBe(text);
});

it('gives every text back', () => {
  fc.assert(
    fc.property(fc.stringMatching(/^['=+\-@＝\t\r\n\0 5.,;|a]{0,7}$/), (text) => {
      expect(restoreCsvText(neutraliseCsvText(text))).toBe(text);
    }),
    { numRuns: 5000 },
  );
});
