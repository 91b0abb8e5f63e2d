import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cellText, escapeCellText } from '../../../src/formats/xlsx-package/cell-text.js';
import { decodeXstring } from './support.js';

describe('escapeCellText', () => {
  it('follows the examples of the standard', () => {
    // ECMA-376 Part 1, 22.9.2.19 ST_Xstring: _x0008_ stands for U+0008, and _x005F_x0008_ for the text _x0008_ itself.
    expect(escapeCellText('\u0008')).toBe('_x0008_');
    expect(escapeCellText('_x0008_')).toBe('_x005F_x0008_');
    expect(escapeCellText('a\r\nb')).toBe('a_x000D_\nb');
  });

  it('does not let an escape close what looks like the start of one', () => {
    expect(escapeCellText('_x0041\u0001')).toBe('_x005F_x0041_x0001_');
    expect(escapeCellText('_x0041_x0042_')).toBe('_x005F_x0041_x005F_x0042_');
  });

  it('leaves other text alone', () => {
    for (const text of ['', 'a_b', '_x12', 'x_x00G0_', 'tab\tand\nline', '\ud83d\ude9a']) expect(escapeCellText(text)).toBe(text);
    expect(escapeCellText('half \ud83d')).toBe('half \ufffd');
  });

  it('is undone by the rule of the standard', () => {
    const alphabet = fc.constantFrom('_', 'x', '0', '4', '1', 'A', 'f', '\u0001', '\r', '\ufffe', '\n', 'z');
    fc.assert(
      fc.property(fc.string({ unit: alphabet, maxLength: 40 }), (text) => {
        expect(decodeXstring(escapeCellText(text))).toBe(text);
      }),
      { numRuns: 3000 },
    );
  });
});

describe('cellText', () => {
  it('escapes the markup', () => {
    expect(cellText('a < b & c > d "q"')).toBe('a &lt; b &amp; c &gt; d "q"');
    expect(cellText('_x0041\u0001<')).toBe('_x005F_x0041_x0001_&lt;');
  });
});
