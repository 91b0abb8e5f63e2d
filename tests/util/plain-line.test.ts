import { describe, expect, it } from 'vitest';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { plainLine } from '../../src/util/plain-line.js';

describe('plainLine', () => {
  it.each([
    ['T-1', 'T-1'],
    ['é 😀 ≤ 5', 'é 😀 ≤ 5'],
    ['a\u001b[2Jb', 'a [2Jb'], // clears the screen of a terminal (ECMA-48, ED)
    ['a\r\nb', 'a b'],
    ['a\u202eb\u2066c', 'a b c'], // shown from right to left (Unicode, UAX 9)
    ['a\u009bb\u0000\u0007c', 'a b c'],
    ['', ''],
  ])('%j becomes %j', (text, plain) => {
    expect(plainLine(text)).toBe(plain);
  });

  it('is what an error says, while its parts keep the text as it is', () => {
    const error = new TreadlebookError({ code: 'usage', where: 'a\u001b[31m.csv', what: 'x\u202ey' });
    expect([error.message, error.where, error.what]).toStrictEqual(['a [31m.csv: x y', 'a\u001b[31m.csv', 'x\u202ey']);
  });
});
