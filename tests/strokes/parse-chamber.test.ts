import { describe, expect, it } from 'vitest';
import { parseChamber, parseStrokeKind } from '../../src/strokes/parse-chamber.js';

const words = (text: string): unknown => {
  const found = parseChamber(text);
  return found && [found.type, found.size, found.kind];
};

describe('parseChamber', () => {
  it.each([
    ['30', [null, '30', null]],
    ['T30', [null, '30', null]],
    ['t-30', [null, '30', null]],
    ['type 30', [null, '30', null]],
    ['Type 30 chamber', [null, '30', null]],
    ['30/30', [null, '30', null]],
    ['30-30', [null, '30', null]],
    ['24/30', [null, '24', null]],
    ['3030', [null, '30', null]],
    ['2430', [null, '24', null]],
    ['T3030', [null, '30', null]],
    ['30L', [null, '30', 'long']],
    ['30 L', [null, '30', 'long']],
    ['30LS', [null, '30', 'long']],
    ['30/30LS', [null, '30', 'long']],
    ['30LS/30', [null, '30', 'long']],
    ['L30', [null, '30', 'long']],
    ['24 long', [null, '24', 'long']],
    ['20 long stroke', [null, '20', 'long']],
    // Canada, clamp type (NSC 11B and provincial practice, from memory): 20L and 24L 2 in, which is 2-1/2 in rated; 24LS 2-1/2 in, which is 3 in rated.
    ['20L', [null, '20', 'long 2-1/2']],
    ['24L', [null, '24', 'long 2-1/2']],
    ['24LS', [null, '24', 'long 3']],
    ['20LS', [null, '20', 'long']],
    ['24 long 3', [null, '24', 'long 3']],
    ['24 long 2 1/2 in', [null, '24', 'long 2-1/2']],
    ['16 std', [null, '16', 'standard']],
    ['clamp', ['clamp', null, null]],
    ['Clamp 30 long', ['clamp', '30', 'long']],
    ['bolt A', ['bolt', 'A', null]],
    ['bolt type g', ['bolt', 'G', null]],
    ['C', [null, 'C', null]],
    ['rotochamber 36', ['rotochamber', '36', null]],
    ['36 roto', ['rotochamber', '36', null]],
    ['Roto-chamber', ['rotochamber', null, null]],
    ['DD-3', ['DD-3', null, null]],
    ['DD3 30', ['DD-3', '30', null]],
    ['dd 3', ['DD-3', null, null]],
    ['９', [null, '9', null]],
    ['14', [null, '14', null]],
    ['brake chamber 30', [null, '30', null]],
    ['30 brake chambers', [null, '30', null]],
    ['clamp, 30', ['clamp', '30', null]],
    ['30, clamp', ['clamp', '30', null]],
    ['3030L', [null, '30', 'long']],
    ['3030 long', [null, '30', 'long']],
    ['24/30 LS', [null, '24', 'long 3']],
    ['24/30 L', [null, '24', 'long 2-1/2']],
    ['06', [null, '6', null]],
  ])('reads %j', (text, expected) => {
    expect(words(text)).toStrictEqual(expected);
  });

  it.each(['', 'H', 'disc', '30LS LS', 'brake chamber', 'bolt blue', 'blue bolt', '9930', '3099', '30/99', '123', 'L30L', '__proto__', 'constructor', '30 blue', 'x'.repeat(500)])('does not understand %j', (text) => {
    expect(parseChamber(text)).toBeNull();
  });
});

describe('parseStrokeKind', () => {
  it('reads the kinds', () => {
    expect(['standard', 'Std.', 'S', 'Long', 'LS', 'l', 'long stroke', 'long 3', 'long 3.0', 'Long Stroke 2.5"', 'LS (3 in)', 'extra'].map(parseStrokeKind)).toStrictEqual(['standard', null, 'standard', 'long', 'long', 'long', 'long', 'long 3', 'long 3', 'long 2-1/2', 'long 3', null]);
  });
});
