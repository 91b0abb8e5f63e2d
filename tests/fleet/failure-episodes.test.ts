import { describe, expect, it } from 'vitest';
import { followFailures } from '../../src/fleet/failure-episodes.js';

/** Records from `1 pf`: the day of March and a letter for each check. */
const follow = (...days: readonly string[]): ReturnType<typeof followFailures> =>
  followFailures(days.map((day) => ({ on: `2026-03-${day.split(' ')[0]!.padStart(2, '0')}`, decided: day.split(' ')[1]! })));

describe('the failures of a unit', () => {
  it('are none where nothing failed', () => {
    expect(follow()).toStrictEqual({ episodes: [], open: new Map(), openBefore: [] });
    expect(follow('1 pp', '2 --')).toStrictEqual({ episodes: [], open: new Map(), openBefore: [false, false] });
  });

  it('are open from the first failure after the last pass', () => {
    const { open, episodes } = follow('1 f-', '2 p-', '3 f-', '5 f-');
    expect([...open]).toStrictEqual([[0, '2026-03-03']]);
    expect(episodes).toStrictEqual([{ openedOn: '2026-03-01', closedOn: '2026-03-02' }, { openedOn: '2026-03-03', closedOn: null }]);
  });

  it('are closed by a pass of the same check only, and not by one that decides nothing', () => {
    const { open, openBefore } = follow('1 f-', '2 -p', '3 --', '4 -f', '6 p-');
    expect([...open]).toStrictEqual([[1, '2026-03-04']]);
    expect(openBefore).toStrictEqual([false, true, true, true, true]);
  });

  it('are one episode until no check is open', () => {
    // The first check is open from the 1st to the 5th, the second from the 3rd to the 9th.
    expect(follow('1 fp', '3 -f', '5 p-', '9 pp').episodes).toStrictEqual([{ openedOn: '2026-03-01', closedOn: '2026-03-09' }]);
  });

  it('may be closed on their own day', () => {
    expect(follow('4 f', '4 p')).toStrictEqual({ episodes: [{ openedOn: '2026-03-04', closedOn: '2026-03-04' }], open: new Map(), openBefore: [false, true] });
  });

  it('stay open through any number of failures', () => {
    expect([...follow('1 ff', '2 ff', '3 ff').open]).toStrictEqual([[0, '2026-03-01'], [1, '2026-03-01']]);
  });
});
