import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatAsFound, parseAsFound } from '../../src/readings/as-found-text.js';

const name = fc.stringMatching(/^[a-z][a-z0-9_]{0,20}$/);

describe('the texts as found of one row in one cell', () => {
  it('are written one after the other, quoted as JSON quotes', () => {
    const texts = new Map([['released_primary_start', '~104'], ['applied_time', '60 s'], ['notes', 'say "so"; then\nstop \\']]);
    expect(formatAsFound(texts)).toBe('released_primary_start "~104"; applied_time "60 s"; notes "say \\"so\\"; then\\nstop \\\\"');
    expect(parseAsFound(formatAsFound(texts))).toStrictEqual(texts);
  });

  it('come back whatever they are', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(name, fc.string({ unit: 'binary' })), { maxLength: 5 }), (items) => {
        const texts = new Map(items);
        expect(parseAsFound(formatAsFound(texts))).toStrictEqual(texts);
      }),
      { numRuns: 500, seed: 7 },
    );
  });

  it.each(['', 'rusty', 'cut_in', 'cut_in 104', 'cut_in "104', 'cut_in "104";cut_out "122"', 'Cut_in "104"', 'cut_in "104" and more', 'x cut_in "104"', 'cut_in "\\x"', '"104"'])('%j, which was not written by it, gives nothing', (cell) => {
    expect(parseAsFound(cell)).toStrictEqual(new Map());
  });

  it('are read to the end however long they are', () => {
    expect(parseAsFound(`cut_in "${'\\\\'.repeat(200_000)}`)).toStrictEqual(new Map());
    expect(parseAsFound('a "b"; '.repeat(50_000))).toStrictEqual(new Map([['a', 'b']]));
  });
});
