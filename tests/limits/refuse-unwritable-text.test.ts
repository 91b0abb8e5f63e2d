import { expect, it } from 'vitest';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';

const set = loadLimitSet('us-nevada');

it.each([
  ['a bell', { title: 'Our\u0007 limits' }, 'title', 'the character U+0007'],
  ['a carriage return', { notice: 'one\r\ntwo' }, 'notice', 'the character U+000D'],
  ['a tab', { authority: 'A\tB' }, 'authority', 'the character U+0009'],
  ['NUL', { authority: '\u0000' }, 'authority', 'the character U+0000'],
  ['U+FFFE', { title: '\ufffe' }, 'title', 'the character U+FFFE'],
  ['half a surrogate pair', { title: '\ud800x' }, 'title', 'the character U+D800'],
  ['what a workbook reads as a character', { title: 'a_x000D_b' }, 'title', 'the letters _x000D_, which a workbook reads as one character'],
  ['one in a check', { checks: set.checks.map((check, index) => (index === 1 ? { ...check, source: { ...check.source, citation: 'Reg. 1\u0001' } } : check)) }, 'checks.1.source.citation', 'the character U+0001'],
])('a limit set with %s in a text is refused, with the place', (_, change, where, what) => {
  expect(() => compileLimitSet({ ...set, ...change })).toThrow(expect.objectContaining({ code: 'limit_set_invalid', where, what: `the text holds ${what}` }));
});

it('a line break and any letter of any script are texts', () => {
  expect(compileLimitSet({ ...set, title: 'Zwei\nZeilen, 二, 😀 =1+1' }).set.title).toBe('Zwei\nZeilen, 二, 😀 =1+1');
});

it.each(['=1+1', '+1', '-1', '@x', 'a,b', 'a;b', 'a"b', ' a', "'a", 'a\u0007'])('a choice %j is refused: a program that offers it would take it for something else', (choice) => {
  const own = { format: 'treadlebook-limits', version: 1, extends: 'common-practice', id: 'own', title: 'Own', authority: 'Own', notice: 'Own.', columns: [{ name: 'road', kind: 'choice', title: 'Road', help: 'Road.', choices: ['dry', choice] }] };
  expect(() => parseLimitSet(JSON.stringify(own), 'own.json')).toThrow(expect.objectContaining({ code: 'limit_set_invalid', where: 'own.json', what: expect.stringMatching(/^columns\.0\.choices\.1: /) }));
});
