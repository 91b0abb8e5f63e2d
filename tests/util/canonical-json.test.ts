import fc from 'fast-check';
import { expect, it } from 'vitest';
import { canonicalJson } from '../../src/util/canonical-json.js';

it('sorts the names of members by their UTF-16 code units', () => {
  // RFC 8785, 3.2.3: the example of an object whose names are to be sorted, and the order that it gives.
  const object = { '\u20ac': 'Euro Sign', '\r': 'Carriage Return', '\ufb33': 'Hebrew Letter Dalet With Dagesh', '1': 'One', '\ud83d\ude00': 'Emoji: Grinning Face', '\u0080': 'Control', '\u00f6': 'Latin Small Letter O With Diaeresis' };
  expect(Object.values(JSON.parse(`[${canonicalJson(object).slice(1, -1).replace(/"(?:[^"\\]|\\.)*":/gu, '')}]`) as object)).toStrictEqual([
    'Carriage Return',
    'One',
    'Control',
    'Latin Small Letter O With Diaeresis',
    'Euro Sign',
    'Emoji: Grinning Face',
    'Hebrew Letter Dalet With Dagesh',
  ]);
});

it('leaves out members that are undefined, as JSON does, and keeps the order of lists', () => {
  expect(canonicalJson({ b: [2, 1, null], a: undefined, c: { z: true, y: '' } })).toBe('{"b":[2,1,null],"c":{"y":"","z":true}}');
});

it('gives equal text for equal values, and says the same as JSON', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      const text = canonicalJson(value);
      expect(JSON.parse(text)).toStrictEqual(JSON.parse(JSON.stringify(value)));
      expect(canonicalJson(JSON.parse(text))).toBe(text);
    }),
    { numRuns: 300, seed: 3 },
  );
});
