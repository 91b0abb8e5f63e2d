import { describe, expect, it } from 'vitest';
import { unitKey } from '../../src/readings/unit-key.js';

describe('unitKey', () => {
  // Ways in which one fleet number is written, by whoever writes it: common practice, no source.
  it.each([
    ['t7', ['T7', 't7', 'T-7', 'T 7', 'T07', 'T-007', ' t - 07 ', 'Ｔ７', '(T-7)']],
    ['101', ['101', '0101', '#101', '00101']],
    ['k101b', ['K-101-B', 'K101 b', 'K 0101/B']],
    ['10', ['10', '010']],
    ['ä5', ['Ä5', 'ä-05']],
    ['t', ['T', '-T-']],
  ])('%j has many spellings', (key, spellings) => {
    expect(spellings.map(unitKey)).toStrictEqual(spellings.map(() => key));
  });

  it('keeps apart what differs in more than its spelling', () => {
    expect(new Set(['T7', 'T70', 'T700', 'K7', '7', '70', 'T7A'].map(unitKey)).size).toBe(7);
  });
});
