import { expect, it } from 'vitest';
import { GrowingNumbers } from '../../src/util/growing-numbers.js';

it('numbers that grow are all there, in their order', () => {
  const numbers = new GrowingNumbers();
  const given = Array.from({ length: 1000 }, (_, index) => index / 8 - 50);
  for (const number of given) numbers.push(number);
  expect([numbers.length, numbers.at(0), numbers.at(999)]).toStrictEqual([1000, -50, 999 / 8 - 50]);
  expect([...numbers.toArray()]).toStrictEqual(given);
});
