import { describe, expect, it } from 'vitest';
import { compareLooseTexts, compareTexts, sameNumber, trimmed } from '../../src/readings/compare-texts.js';

describe('compareTexts', () => {
  it.each([
    ['K-101', 'K-101', 'same'],
    [' K-101 ', 'K-101', 'same'],
    ['two\r\nlines', 'two\nlines', 'same'],
    ['two\rlines', 'two\nlines', 'same'],
    ['K-101', 'k-101', 'spelling'],
    ['K-101', 'K - 101', 'spelling'],
    ['K-101', 'K  -  101', 'spelling'],
    ['Ｋ-101', 'K-101', 'spelling'],
    ['K-101', 'K-102', 'value'],
    ['K-101', 'K101', 'value'],
    ['', 'K', 'value'],
  ])('%j and %j: %s', (a, b, likeness) => {
    expect(compareTexts(a, b)).toBe(likeness);
    expect(compareTexts(b, a)).toBe(likeness);
  });
});

describe('compareLooseTexts', () => {
  it.each([
    ['9.50', '9.5', 'same'],
    [' 9.50', '9.5 ', 'same'],
    ['-3.0', '-3', 'same'],
    ['0.10', '0.1', 'same'],
    ['10', '10.00', 'same'],
    ['1234567890.5', '1234567890.50', 'same'],
    ['9.5', '9.6', 'value'],
    ['3', '-3', 'value'],
    // Leading zeros, more digits than a double holds and texts with more than a number are names, not numbers.
    ['007', '7', 'value'],
    ['7', '007', 'value'],
    ['12345678901', '12345678901.0', 'value'],
    ['9.5000000', '9.5', 'value'],
    ['9.5 kg', '9.50 kg', 'value'],
    ['no 9.5', 'no 9.50', 'value'],
    ['1e1', '10', 'value'],
    ['A 1', 'a1', 'spelling'],
  ])('%j and %j: %s', (a, b, likeness) => {
    expect(compareLooseTexts(a, b)).toBe(likeness);
  });
});

describe('sameNumber', () => {
  it('allows a share of the size, and below 1 the tolerance itself', () => {
    expect(sameNumber(1000, 1000.5, 0.001)).toBe(true);
    expect(sameNumber(1000.5, 1000, 0.001)).toBe(true);
    expect(sameNumber(-1000, -1000.5, 0.001)).toBe(true);
    expect(sameNumber(1000, 1002, 0.001)).toBe(false);
    expect(sameNumber(0.001, 0.0019, 0.001)).toBe(true);
    expect(sameNumber(0, 0.25, 0.25)).toBe(true);
    expect(sameNumber(0.1, 0.5, 0.25)).toBe(false);
    expect(sameNumber(1, -1, 0.25)).toBe(false);
  });
});

describe('trimmed', () => {
  it('takes the spaces off the ends and makes every line end one', () => {
    expect(trimmed(' a\r\nb\rc\nd\r\n')).toBe('a\nb\nc\nd');
  });
});
