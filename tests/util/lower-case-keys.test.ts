import { describe, expect, it } from 'vitest';
import { LowerCaseKeys } from '../../src/util/lower-case-keys.js';

describe('keys in small letters', () => {
  it('are the names in small letters, whatever the name', () => {
    const keys = new LowerCaseKeys();
    expect(['T-7', 't-7', 'T-7', '__proto__', 'Ä1', ''].map((name) => keys.of(name))).toStrictEqual(['t-7', 't-7', 't-7', '__proto__', 'ä1', '']);
  });
});
