import { expect, it } from 'vitest';
import { decodeXmlEscapes } from '../../../src/formats/xlsx-reader/decode-xml-escapes.js';

// ECMA-376 Part 1, 22.9.2.19 (ST_Xstring): _xHHHH_ stands for the character, _x005F_ for an underscore that would begin an escape.
it.each([
  ['_x0008_', '\b'],
  ['_x005F_x0008_', '_x0008_'],
  ['a_x000d_b', 'a\rb'],
  ['_xD83D__xDE00_', '😀'],
  ['_X0008_', '_X0008_'],
  ['_x12_ _xZZZZ_ x0008_', '_x12_ _xZZZZ_ x0008_'],
])('%s', (written, text) => {
  expect(decodeXmlEscapes(written)).toBe(text);
});
