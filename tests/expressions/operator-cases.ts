import { call } from '../../src/expressions/call.js';
import type { OperatorName } from '../../src/expressions/operators.js';
import { parseExpression } from '../../src/expressions/parse-expression.js';
import { constant, nameOf, type Tree, type Value } from '../../src/expressions/tree.js';
import { NAME_TYPES, type CellContent } from './readings-in-cells.js';

/** An expression, the cells of its row (those not named are blank), and what it must give; null is blank. */
export interface OperatorCase {
  readonly tree: Tree;
  readonly cells: Readonly<Record<string, CellContent>>;
  readonly gives: Value;
}

const written = (text: string, cells: OperatorCase['cells'], gives: Value): OperatorCase => ({ tree: parseExpression(text, NAME_TYPES), cells, gives });
const made = (tree: Tree, cells: OperatorCase['cells'], gives: Value): OperatorCase => ({ tree, cells, gives });
const [a, b] = [nameOf('a', 'number'), nameOf('b', 'number')];
const [s, t] = [nameOf('s', 'text'), nameOf('t', 'text')];
const p = nameOf('p', 'truth');

/** The same expression of `a` and `b` with either of them blank, or a text in its place: always blank, never a pass. */
const blanks = (text: string): OperatorCase[] =>
  [
    { b: 3 },
    { a: 3 },
    {},
    { a: 'abc', b: 3 },
    { a: 3, b: 'abc' },
    { a: '7', b: 3 },
    { a: 3, b: '7' },
  ].map((cells) => written(text, cells as OperatorCase['cells'], null));
const lone = (text: string): OperatorCase[] => [written(text, {}, null), written(text, { a: 'abc' }, null), written(text, { a: '7' }, null)];

/** Cases for every operator. What an operator gives is worked out by hand, unless a source stands beside it. */
export const OPERATOR_CASES: Readonly<Record<OperatorName, readonly OperatorCase[]>> = {
  add: [written('a + b', { a: 2, b: 3 }, 5), written('a + b', { a: 1e308, b: 1e308 }, null), written('1 / (a + b - 0.3)', { a: 0.1, b: 0.2 }, null), ...blanks('a + b')],
  subtract: [written('a - b', { a: 2, b: 3.5 }, -1.5), written('a - b - c', { a: 10, b: 3, c: 2 }, 5), written('a - (b - c)', { a: 10, b: 3, c: 2 }, 9), ...blanks('a - b')],
  multiply: [written('a * b', { a: 2.5, b: -4 }, -10), written('a * b', { a: 1e300, b: 1e300 }, null), written('(a + b) * c', { a: 1, b: 2, c: 3 }, 9), ...blanks('a * b')],
  divide: [
    written('a / b', { a: 7, b: 2 }, 3.5),
    written('a / b', { a: 7, b: 0 }, null),
    written('a / b', { a: 0, b: 0 }, null),
    written('a / b / c', { a: 12, b: 3, c: 2 }, 2),
    written('a / (b / c)', { a: 12, b: 3, c: 2 }, 8),
    ...blanks('a / b'),
  ],
  power: [
    // Precedence as mathjs documents it: the power binds before the sign, and from the right; a spreadsheet does neither.
    written('-2 ^ 2', {}, -4),
    written('-a ^ 2', { a: 2 }, -4),
    written('(-2) ^ 2', {}, 4),
    written('2 ^ 3 ^ 2', {}, 512),
    written('(2 ^ 3) ^ 2', {}, 64),
    written('a ^ b', { a: 9, b: 0.5 }, 3),
    written('a ^ -b', { a: 2, b: 2 }, 0.25),
    written('a ^ b', { a: -4, b: 0.5 }, null),
    written('a ^ b', { a: -2, b: 3 }, -8),
    written('a ^ b', { a: 0, b: 0 }, null),
    written('a ^ b', { a: 0, b: -1 }, null),
    written('a ^ b', { a: 10, b: 400 }, null),
    ...blanks('a ^ b'),
  ],
  negate: [written('-a', { a: 3 }, -3), written('-a - -b', { a: 3, b: 1 }, -2), written('a - -b', { a: 3, b: 1 }, 4), ...lone('-a')],
  less: [written('a < b', { a: 2, b: 3 }, true), written('a < b', { a: 3, b: 3 }, false), written('a < 3', { a: 2.9999999 }, false), written('a < 3', { a: 2.999999 }, true), ...blanks('a < b'), ...blanks('a < 5 and b < 5')],
  less_or_equal: [
    written('a <= b', { a: 3, b: 3 }, true),
    written('a <= 3', { a: 3.0000001 }, true),
    written('a <= 3', { a: 3.000001 }, false),
    // The float noise of 104.1 - 101.1, which is above 3 by 8 in the 15th decimal.
    written('a - b <= 3', { a: 104.1, b: 101.1 }, true),
    written('a <= b', { a: 4, b: 3 }, false),
    ...blanks('a <= b'),
  ],
  greater: [written('a > b', { a: 3, b: 2 }, true), written('a > b', { a: 3, b: 3 }, false), written('a > b', { a: 0.3, b: 0.1 }, true), ...blanks('a > b')],
  greater_or_equal: [
    written('a >= b', { a: 3, b: 3 }, true),
    written('a >= b', { a: 2.9, b: 3 }, false),
    // A spreadsheet holds a text above every number: it must not pass.
    written('a >= 5', { a: 'abc' }, null),
    written('a >= 5', { a: '7' }, null),
    ...blanks('a >= b'),
  ],
  equal: [written('a == b', { a: 3, b: 3 }, true), written('a + b == 0.3', { a: 0.1, b: 0.2 }, true), written('a == b', { a: 3, b: 3.00001 }, false), written('a == 0', {}, null), ...blanks('a == b')],
  unequal: [written('a != b', { a: 3, b: 3 }, false), written('a != b', { a: 3, b: 4 }, true), written('a + b != 0.3', { a: 0.1, b: 0.2 }, false), ...blanks('a != b')],
  same_text: [
    written('s == "bus"', { s: 'bus' }, true),
    written('s == "bus"', { s: 'BUS' }, true),
    written('s == t', { s: 'Bus', t: 'bUS' }, true),
    written('s == "bus"', { s: 'truck' }, false),
    written('s == "b*"', { s: 'bus' }, false),
    written('s == "bus"', {}, null),
    written('s == t', { s: 'bus' }, null),
  ],
  other_text: [written('s != "bus"', { s: 'BUS' }, false), written('s != "bus"', { s: 'truck' }, true), written('s != t', { t: 'bus' }, null)],
  and: [
    written('p and q', { p: 'yes', q: 'yes' }, true),
    written('p and q', { p: 'yes', q: 'no' }, false),
    written('p and q', { p: 'no' }, null),
    written('p and q', { p: 'no', q: 'maybe' }, null),
    // A chain means and; a spreadsheet would compare the first answer with the last number.
    written('1 < a < 3', { a: 2 }, true),
    written('1 < a < 3', { a: 3 }, false),
    written('3 >= a >= b > 0', { a: 2, b: 1 }, true),
    written('3 >= a >= b > 0', { a: 2, b: 0 }, false),
    written('1 < a < 3', {}, null),
  ],
  or: [written('p or q', { p: 'no', q: 'yes' }, true), written('p or q', { p: 'no', q: 'no' }, false), written('p or q', { p: 'yes' }, null), written('a > 1 or b > 1', { a: 'abc', b: 3 }, null), written('p or p and q', { p: 'yes', q: 'no' }, true)],
  not: [written('not p', { p: 'no' }, true), written('not p', { p: 'yes' }, false), written('not p', {}, null), written('not (a > 3)', { a: 3 }, true), written('not (a > 3)', { a: 'abc' }, null)],
  max: [written('max(a, b)', { a: 2, b: 3 }, 3), written('max(a, b, c)', { a: 2, b: 3, c: 4.5 }, 4.5), written('max(a, 10)', { a: 2 }, 10), ...blanks('max(a, b)')],
  min: [written('min(a, b)', { a: 2, b: 3 }, 2), written('min(a, b, -1)', { a: 2, b: 3 }, -1), ...blanks('min(a, b)')],
  abs: [written('abs(a - b)', { a: 2, b: 5 }, 3), written('abs(a)', { a: 2 }, 2), ...lone('abs(a)')],
  sqrt: [written('sqrt(a)', { a: 6.25 }, 2.5), written('sqrt(-1)', {}, null), written('sqrt(a)', { a: -1 }, null), written('sqrt(a)', { a: 0 }, 0), ...lone('sqrt(a)')],
  // e to 20 decimals: OEIS A001113.
  exp: [written('exp(a)', { a: 1 }, 2.718281828459045), written('exp(a)', { a: 0 }, 1), written('exp(a)', { a: 1000 }, null), ...lone('exp(a)')],
  // The natural logarithm of 2: OEIS A002162.
  ln: [written('ln(a)', { a: 2 }, 0.6931471805599453), written('ln(0)', {}, null), written('ln(a)', { a: -1 }, null), ...lone('ln(a)')],
  round: [
    // Microsoft's page of the function ROUND.
    written('round(a, 1)', { a: 2.15 }, 2.2),
    written('round(a, 1)', { a: 2.149 }, 2.1),
    written('round(a, 2)', { a: -1.475 }, -1.48),
    // A half goes away from zero, by the decimal digits.
    written('round(a)', { a: 2.5 }, 3),
    written('round(a)', { a: -2.5 }, -3),
    written('round(a, 2)', { a: 1.005 }, 1.01),
    written('round(a, 2)', { a: -1.005 }, -1.01),
    written('round(a, 10)', { a: 0.12345678905 }, 0.1234567891),
    ...lone('round(a, 1)'),
  ],
  highest: [
    written('highest(a, b)', { a: 2, b: 3 }, 3),
    written('highest(a, b)', { a: 2 }, 2),
    written('highest(a, b)', { b: -3 }, -3),
    written('highest(a, b, c)', { a: 'abc', b: 2, c: '7' }, 2),
    written('highest(a, b)', {}, null),
    written('highest(a, b)', { a: 'abc', b: '7' }, null),
    written('highest(a, b) + 1', { a: -2, b: -3 }, -1),
  ],
  lowest: [written('lowest(a, b)', { a: 2, b: 3 }, 2), written('lowest(a, b)', { b: 3 }, 3), written('lowest(a, b)', { a: 0, b: 3 }, 0), written('lowest(a, b)', { a: 'never' }, null), written('lowest(a, b)', {}, null)],
  given: [
    written('given(a)', { a: 0 }, true),
    written('given(a)', {}, false),
    written('given(a)', { a: 'abc' }, false),
    written('given(a)', { a: '7' }, false),
    written('given(p)', { p: 'no' }, true),
    written('given(s)', {}, false),
    written('given(a) and not given(b)', { a: 1 }, true),
  ],
  choose: [
    written('a > 3 ? 1 : 2', { a: 4 }, 1),
    written('a > 3 ? 1 : 2', { a: 3 }, 2),
    written('a > 3 ? 1 : 2', {}, null),
    // Only the branch that is chosen needs its operands, and only it can fail.
    written('a > 3 ? a : b', { a: 4 }, 4),
    written('a > 3 ? a : b', { a: 3 }, null),
    written('b == 0 ? 0 : a / b', { a: 4, b: 0 }, 0),
    written('given(b) ? a / b : a', { a: 4 }, 4),
    written('a > 3 ? s : "none"', { a: 4, s: 'bus' }, 'bus'),
    written('a > 3 ? s : "none"', { a: 3 }, 'none'),
    written('a > 3 ? a > 5 : p', { a: 3, p: 'yes' }, true),
    written('a > 3 ? 1 : a > 2 ? 2 : 3', { a: 2.5 }, 2),
  ],
  or_else: [
    made(call('or_else', a, b), { a: 1, b: 2 }, 1),
    made(call('or_else', a, b), { b: 2 }, 2),
    made(call('or_else', a, b), { a: 'abc', b: 2 }, 2),
    made(call('or_else', a, b), {}, null),
    made(call('or_else', call('divide', a, b), constant(-1)), { a: 1, b: 0 }, -1),
    made(call('or_else', call('less', a, b), constant(false)), { a: 1 }, false),
  ],
  only_if: [
    made(call('only_if', p, a), { p: 'yes', a: 2 }, 2),
    made(call('only_if', p, a), { p: 'no', a: 2 }, null),
    made(call('only_if', p, a), { a: 2 }, null),
    written('only_if(a > 1, b)', { a: 2, b: 3 }, 3),
    written('only_if(a > 1, b)', { a: 1, b: 3 }, null),
    written('only_if(a > 1, b)', { a: 2 }, null),
    written('1 + only_if(a > 1, b)', { a: 2, b: 3 }, 4),
    written('1 + only_if(a > 1, b)', { a: 0, b: 3 }, null),
    written('highest(a, b) + only_if(a > 1, b)', { b: 3 }, null),
    made(call('only_if', call('greater', a, b), s), { a: 'abc', b: 1, s: 'bus' }, null),
    made(call('only_if', call('greater', call('divide', a, b), constant(1)), s), { a: 3, b: 0, s: 'bus' }, null),
    made(call('only_if', call('greater', call('divide', a, b), constant(1)), s), { a: 3, b: 2, s: 'bus' }, 'bus'),
  ],
  reads: [made(call('reads', s, constant('pass')), { s: 'pass' }, true), made(call('reads', s, constant('pass')), { s: 'Pass' }, false), made(call('reads', s, constant('pass')), {}, false), made(call('reads', s, t), { s: 'x', t: 'y' }, false)],
  join: [made(call('join', s, constant(' says "no" '), t), { s: 'bus', t: 'x' }, 'bus says "no" x'), made(call('join', s, t), { s: 'bus' }, null), made(call('join', constant('only')), {}, 'only')],
  text: [
    made(call('text', a, constant(2)), { a: 3 }, '3'),
    made(call('text', a, constant(2)), { a: 2.345 }, '2.35'),
    made(call('text', a, constant(2)), { a: -0.5 }, '-0.5'),
    made(call('text', a, constant(2)), { a: 0.001 }, '0'),
    made(call('text', a, constant(1)), { a: 100.04 }, '100'),
    made(call('text', a, constant(2)), { a: 'abc' }, null),
  ],
  duration: [
    made(call('duration', a), { a: 60 }, '60 s'),
    made(call('duration', a), { a: 59.96 }, '60 s'),
    made(call('duration', a), { a: 59.94 }, '59.9 s'),
    made(call('duration', a), { a: 119.4 }, '119.4 s'),
    made(call('duration', a), { a: 119.5 }, '2 min'),
    made(call('duration', a), { a: 250 }, '4 min 10 s'),
    made(call('duration', a), { a: 300 }, '5 min'),
    made(call('duration', a), {}, null),
  ],
  round_up_to: [made(call('round_up_to', a, constant(30)), { a: 61 }, 90), made(call('round_up_to', a, constant(30)), { a: 60 }, 60), made(call('round_up_to', a, constant(30)), { a: 60.0000001 }, 60), made(call('round_up_to', a, constant(30)), {}, null)],
  round_down: [made(call('round_down', a, constant(2)), { a: 1.239 }, 1.23), made(call('round_down', a, constant(2)), { a: 1.23 }, 1.23), made(call('round_down', a, constant(2)), { a: '1' }, null)],
  root_of_squares: [made(call('root_of_squares', a, b), { a: 3, b: -4 }, 5), made(call('root_of_squares', a), { a: -2 }, 2), made(call('root_of_squares', a, b), { a: 3 }, null), made(call('root_of_squares', a, b), { a: 1e200, b: 1 }, null)],
  normal_cdf: [
    // Microsoft's page of the function NORMSDIST, 9 digits.
    made(call('normal_cdf', a), { a: 1.333333 }, 0.908788726),
    made(call('normal_cdf', a), { a: 0 }, 0.5),
    made(call('normal_cdf', a), {}, null),
    made(call('normal_cdf', call('divide', a, b)), { a: 1, b: 0 }, null),
  ],
};
