import { describe, expect, it } from 'vitest';
import { remembering } from '../../src/util/remembering.js';

/** A function of a text that keeps its answers, and the texts that it worked out. */
function told<Answer>(most: number, work: (text: string) => Answer): { readonly ask: (text: string) => Answer; readonly worked: readonly string[] } {
  const worked: string[] = [];
  const ask = remembering(most, (text) => {
    worked.push(text);
    return work(text);
  });
  return { ask, worked };
}

describe('a function that keeps its answers', () => {
  it('works a text out once, also where the answer is null or undefined', () => {
    const { ask, worked } = told(9, (text) => (text === 'a' ? null : text === 'b' ? undefined : text.length));
    expect(['a', 'b', 'cc', 'a', 'b', 'cc', '__proto__', 'constructor', '', ''].map(ask)).toStrictEqual([null, undefined, 2, null, undefined, 2, 9, 11, 0, 0]);
    expect(worked).toStrictEqual(['a', 'b', 'cc', '__proto__', 'constructor', '']);
  });

  it('keeps no more than it is told, and starts anew beyond that', () => {
    const { ask, worked } = told(2, (text) => text);
    for (const text of ['a', 'b', 'a', 'c', 'c', 'a']) expect(ask(text)).toBe(text);
    expect(worked).toStrictEqual(['a', 'b', 'c', 'a']);
  });

  it('keeps no long text', () => {
    const { ask, worked } = told(9, (text) => text.length);
    const [long, longer] = ['x'.repeat(300), 'x'.repeat(301)];
    expect([long, long, longer, longer].map(ask)).toStrictEqual([300, 300, 301, 301]);
    expect(worked).toStrictEqual([long, longer, longer]);
  });

  it('keeps nothing of what failed', () => {
    const { ask, worked } = told(9, () => {
      throw new Error('no');
    });
    expect(() => ask('a')).toThrow('no');
    expect(() => ask('a')).toThrow('no');
    expect(worked).toStrictEqual(['a', 'a']);
  });
});
