import { expect, test } from 'vitest';
import { notUnderstood, understood } from '../../src/readings/parse-result.js';

test('understood carries the value', () => {
  expect(understood(104, true)).toStrictEqual({ ok: true, value: 104, exact: true });
});

test('notUnderstood has a hint only where one is given', () => {
  expect(notUnderstood('yes or no')).toStrictEqual({ ok: false, expected: 'yes or no' });
  expect(notUnderstood('yes or no', 'write no')).toStrictEqual({ ok: false, expected: 'yes or no', hint: 'write no' });
});
