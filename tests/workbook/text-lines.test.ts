import { expect, it } from 'vitest';
import { textLines, textWidth } from '../../src/workbook/text-lines.js';

/** Widths of Helvetica, which Arial shares, in thousandths of its size (Adobe Core 14 AFM, Helvetica.afm). */
const HELVETICA = {
  ' ': 278, A: 667, B: 667, C: 722, D: 722, E: 667, F: 611, G: 778, H: 722, I: 278, J: 500, K: 667, L: 556, M: 833, N: 722, O: 778, P: 667, Q: 778, R: 722, S: 667, T: 611, U: 722, V: 667, W: 944, X: 667, Y: 667, Z: 611,
  a: 556, b: 556, c: 500, d: 556, e: 556, f: 278, g: 556, h: 556, i: 222, j: 222, k: 500, l: 222, m: 833, n: 556, o: 556, p: 556, q: 556, r: 333, s: 500, t: 278, u: 556, v: 500, w: 722, x: 500, y: 500, z: 500,
  0: 556, 1: 556, 2: 556, 3: 556, 4: 556, 5: 556, 6: 556, 7: 556, 8: 556, 9: 556, '.': 278, ',': 278, ':': 278, ';': 278, '-': 333, '(': 333, ')': 333, '/': 278, '%': 889,
} as Readonly<Record<string, number>>;

it.each([
  'Engine off, key on, chocks in place. Fan the pedal and watch the lower gauge: write down where the light comes on.',
  'at most 15 plus (5 times (Vehicles in combination minus 1)) (kPa/min)',
  'Medium and heavy truck state-inspection style check; common practice, no source',
  'N.H. Saf-C 3226.04(b)(6),(7)',
])('takes a line to be as wide as the metrics of the font say, never much narrower: %s', (text) => {
  const width = [...text].reduce((sum, letter) => sum + HELVETICA[letter]! / 100, 0);
  expect(textWidth(text, 10) / width).toBeGreaterThan(0.97);
  expect(textWidth(text, 10) / width).toBeLessThan(1.12);
});

it('counts lines as words wrap: at spaces, at line ends, and within a word that is too wide', () => {
  expect(textLines('', 100, 10)).toBe(1);
  expect(textLines('one two', 100, 10)).toBe(1);
  expect(textLines('one\ntwo', 100, 10)).toBe(2);
  // Each word is 5 letters of 5.56 points: two of them and a space are wider than 50 points.
  expect(textLines('nnnnn nnnnn nnnnn', 50, 10)).toBe(3);
  expect(textLines('n'.repeat(20), 50, 10)).toBe(3);
});
