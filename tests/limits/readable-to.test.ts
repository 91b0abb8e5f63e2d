import { describe, expect, it } from 'vitest';
import { readableTo } from '../../src/limits/readable-to.js';

describe('what can be told on a gauge', () => {
  // About one needle's width, 0.12 of a step: common practice, no source.
  it('is a needle of a dial, and the step of a digital gauge', () => {
    expect(readableTo({ step: 25 })).toStrictEqual({ readableTo: 3, digital: false });
    expect(readableTo({ step: 2 })).toStrictEqual({ readableTo: 2, digital: true });
    expect(readableTo({ step: 2, digital: false })).toStrictEqual({ readableTo: 0.24, digital: false });
    expect(readableTo({ step: 0.1, unit: 'bar' })).toStrictEqual({ readableTo: 0.1, digital: true });
    expect(readableTo({ step: 1, unit: 'bar' })).toStrictEqual({ readableTo: 0.12, digital: false });
  });

  it('is nothing without a step', () => {
    for (const step of [0, -1, NaN, Infinity]) expect(readableTo({ step })).toBeNull();
  });
});
