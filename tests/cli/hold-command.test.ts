import { describe, expect, it } from 'vitest';
import { runInside } from './run-inside.js';

interface HoldJson {
  readonly readable_to: number;
  readonly digital: boolean | null;
  readonly holds: readonly { readonly hold_s: number; readonly lost_at_limit: number; readonly sure_pass_at_most: number | null; readonly sure_fail_at_least: number }[];
  readonly losses: readonly { readonly share_of_limit: number; readonly hold_s: number }[];
}

async function json(...words: string[]): Promise<HoldJson> {
  const { code, out, err } = await runInside(['hold', ...words, '--json']);
  expect([code, err]).toStrictEqual([0, '']);
  return JSON.parse(out) as HoldJson;
}

describe('treadlebook hold', () => {
  // JCGM 100:2008, F.2.2.1: two readings of resolution 1 have u = 1 / sqrt(6) = 0.4082482905; JCGM 106:2012, Table 1: 1.6448536
  // for 95 %. The margin of a gauge read to 3 psi is 3 x 0.4082482905 x 1.6448536 = 2.014526.
  const MARGIN = 3 * 0.4082482905 * 1.6448536;

  it('gives the losses that decide a hold, and the hold that decides a loss', async () => {
    const { readable_to, digital, holds, losses } = await json('--gauge-step', '25', '--limit', '3');
    expect([readable_to, digital]).toStrictEqual([3, false]);
    expect(holds.map(({ hold_s, lost_at_limit }) => [hold_s, lost_at_limit])).toStrictEqual([[60, 3], [120, 6], [300, 15], [600, 30]]);
    for (const { lost_at_limit: atLimit, sure_pass_at_most: pass, sure_fail_at_least: fail } of holds) {
      expect(pass).toBeCloseTo(atLimit - MARGIN, 6);
      expect(fail).toBeCloseTo(atLimit + MARGIN, 6);
    }
    const held = new Map(losses.map(({ share_of_limit: share, hold_s }) => [share, hold_s]));
    expect(held.get(0)).toBeCloseTo((60 * MARGIN) / 3, 5);
    expect(held.get(0.8)).toBeCloseTo((60 * MARGIN) / 0.6, 4);
    expect(held.get(1.25)).toBeCloseTo((60 * MARGIN) / 0.75, 4);
    expect(held.has(1)).toBe(false);
  });

  it('says it in words, a pass rounded down and a fail rounded up', async () => {
    const { code, out, err } = await runInside(['hold', '--gauge-step', '25', '--limit', '3']);
    expect([code, err]).toStrictEqual([0, '']);
    const lines = out.split('\n');
    expect(lines.slice(0, 2)).toStrictEqual(['Gauge: steps of 25 psi, a dial: told apart to 3 psi (0.12 of a step, common practice, no source)', 'Limit: 3 psi/min']);
    // 3 - 2.0145 and 3 + 2.0145; 6 - 2.0145 and 6 + 2.0145; 0.6715 min.
    expect(lines).toContain('  60 s      3 psi              0.9 psi            5.1 psi');
    expect(lines).toContain('  2 min     6 psi              3.9 psi            8.1 psi');
    expect(out).toMatch(/^ {2}the needle has not moved {2}41 s$/m);
    expect(out).toContain('A tank that cools by 1 °C loses about 0.4 psi at 100 psi without any leak');
  });

  it('takes the units that a gauge is marked in, and a digital one to its step', async () => {
    // 2 psi is 13.79 kPa: a step of 10 kPa is digital, one of 20 is a dial.
    expect(await json('--gauge-step', '10', '--limit', '20', '--unit', 'kPa')).toMatchObject({ readable_to: 10, digital: true });
    expect(await json('--gauge-step', '20', '--limit', '20', '--unit', 'kpa')).toMatchObject({ readable_to: 2.4, digital: false });
    expect(await json('--gauge-step', '20', '--limit', '20', '--unit', 'kPa', '--digital')).toMatchObject({ readable_to: 20, digital: true });
    const [psi, bar] = [await json('--readable-to', '1', '--limit', '3'), await json('--readable-to', '0,01', '--limit', '0.03', '--unit', 'bar')];
    expect(bar.losses.map(({ hold_s }) => hold_s.toFixed(6))).toStrictEqual(psi.losses.map(({ hold_s }) => hold_s.toFixed(6)));
    expect((await runInside(['hold', '--readable-to', '0.1', '--limit', '0.2', '--unit', 'bar'])).out).toContain('A tank that cools by 1 °C loses about 0.03 bar at 6.9 bar');
  });

  it('goes by what can be read where that is given, and has no sure pass while the limit is within the gauge', async () => {
    const { readable_to, digital, holds } = await json('--gauge-step', '25', '--readable-to', '6', '--limit', '3');
    expect([readable_to, digital]).toStrictEqual([6, null]);
    // The margin is 4.03 psi, more than the 3 psi that a minute may lose.
    expect(holds[0]!.sure_pass_at_most).toBeNull();
    expect((await runInside(['hold', '--readable-to', '6', '--limit', '3'])).out).toMatch(/^ {2}60 s +3 psi +none +7\.1 psi$/m);
  });

  it.each([
    [[], 'hold: the limit is missing'],
    [['--limit', '3'], 'hold: the gauge is missing'],
    [['--limit', '3', '--digital', '--readable-to', '1'], 'hold: --digital says how the step is read'],
    [['--gauge-step', '0', '--limit', '3'], 'hold: --gauge-step "0" is not a number above 0'],
    [['--gauge-step', '25', '--limit=-3'], 'hold: --limit "-3" is not a number above 0'],
    [['--gauge-step', '1e3', '--limit', '3'], 'hold: --gauge-step "1e3" is not a number above 0'],
    [['--gauge-step', 'NaN', '--limit', '3'], 'hold: --gauge-step "NaN" is not a number above 0'],
    [['--gauge-step', '25', '--limit', 'Infinity'], 'hold: --limit "Infinity" is not a number above 0'],
    [['--gauge-step', '25', '--limit', '3', '--unit', 'MPa'], 'hold: --unit "MPa" is not a pressure unit here'],
    [['--gauge-steps', '25', '--limit', '3'], 'hold: the option --gauge-steps is unknown; did you mean --gauge-step?'],
    [['25', '--limit', '3'], 'hold: there is a word too many'],
  ])('%j is refused in one line', async (words, message) => {
    const { code, out, err } = await runInside(['hold', ...words]);
    expect([code, out]).toStrictEqual([2, '']);
    expect(err).toContain(`treadlebook: ${message}`);
    expect(err.trim().split('\n')).toHaveLength(1);
  });
});
