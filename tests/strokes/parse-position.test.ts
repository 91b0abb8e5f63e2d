import { expect, it } from 'vitest';
import { parsePosition } from '../../src/strokes/parse-position.js';

it.each([
  ['1L', '1L'],
  ['1 l', '1L'],
  ['L1', '1L'],
  ['LF', '1L'],
  ['FR', '1R'],
  ['left front', '1L'],
  ['Front, right side', '1R'],
  ['steer L', '1L'],
  ['axle 2 right', '2R'],
  ['2nd axle left', '2L'],
  ['Ax. 3 RH', '3R'],
  ['A3L', '3L'],
  ['2R inner', '2R inner'],
  ['2 R inner', '2R inner'],
  ['2-L-outside', '2L outer'],
  ['LR', 'rear L'],
  ['RR', 'rear R'],
  ['rear 2 left', 'rear 2L'],
  ['trailer 1 left', 'trailer 1L'],
  ['drive right', 'drive R'],
  ['7', '7'],
  ['12', '12'],
  ['03', '3'],
  ['axle 12 left', '12L'],
  ['trailer -- 1 -- left', 'trailer 1L'],
])('reads %j', (text, expected) => {
  expect(parsePosition(text)).toBe(expected);
});

it.each(['', 'left', 'axle 2', 'L R 1', '1 2 L', 'somewhere', 'blue 1L', '1L blue', 'RL LR', '__proto__', 'constructor', '123L', 'left inner'])('does not understand %j', (text) => {
  expect(parsePosition(text)).toBeNull();
});
