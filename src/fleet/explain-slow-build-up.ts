import { buildupOverSpan, COMMON_SPAN } from '../physics/buildup-over-span.js';
import { riseOf, type BuildupTest } from '../physics/buildup-test.js';
import { leakShareOfSlowBuildup } from '../physics/leak-share-of-slow-buildup.js';
import { lossMargin, SURE_Z } from '../physics/loss-margin.js';
import { durationWords } from '../expressions/operators.js';
import { roundHalfAway } from '../util/round-half-away.js';

/** A build-up of one unit as its inspection tells it. Pressures in psi. */
export interface UnitBuildup extends Omit<BuildupTest, 'lossPsiPerMin'> {
  /** The day of the inspection, ISO 8601. */
  readonly on: string;
  /** The leak measured on that day with the brakes released, psi a minute; null where none was that counts. */
  readonly lossPsiPerMin: number | null;
  /** Engine speed; null where it was not written down. */
  readonly rpm: number | null;
  /** What can be told on the gauge; null where it is not known. */
  readonly readablePsi: number | null;
}

/** Slower by less than this is no slow build-up, whatever the gauge tells: engine speeds compare no closer; common practice, no source. */
const CLEARLY_SLOWER = 0.1;
/** Engine speeds that differ by more than this do not compare, for the engine drives the compressor; common practice, no source. */
const SAME_SPEED = 0.1;
/** From here on the leak is mended first, and below the other it is not the reason; common practice, no source. */
const [MOST_OF_IT, LITTLE_OF_IT] = [0.5, 0.1];

/**
 * Says of a build-up that has become slow how much of it the leak explains, and what to do first.
 *
 * Both times are brought to {@link COMMON_SPAN}. Where the leak of the earlier day is not known, what the leak explains is the most
 * that it may.
 *
 * Source and assumptions: `buildupOverSpan` and `leakShareOfSlowBuildup`; what counts as slow and as most of it, and where to
 * look, is common practice, no source. Give the leak of either day only with the same tanks connected. The share is rounded to
 * 5 %, for two gauges do not carry more.
 *
 * @param good an earlier test of the same unit that passed, before which no later repair took effect
 * @param now the latest test
 * @returns one sentence; null where the build-up is not clearly slower, or by no more than the gauges explain, or the tests do not compare
 * @example
 * explainSlowBuildUp(
 *   { on: '2026-01-05', fromPsi: 85, toPsi: 100, seconds: 30, lossPsiPerMin: 0, rpm: null, readablePsi: 1 },
 *   { on: '2026-03-14', fromPsi: 85, toPsi: 100, seconds: 45, lossPsiPerMin: 6, rpm: null, readablePsi: 1 },
 * )
 * // 'Build-up brought to 85 to 100 psi took 45 s on 2026-03-14, and 30 s on 2026-01-05: the leak explains 60 % of the slow build-up; mend it first, then time again.'
 */
export function explainSlowBuildUp(good: UnitBuildup, now: UnitBuildup): string | null {
  const [then, today] = [riseOf(plain(good)), riseOf(plain(now))];
  const [before, after] = [buildupOverSpan(plain(good)), buildupOverSpan(plain(now))];
  if (then === null || today === null || before === null || after === null || !isSlower(good, now, then, today) || !isSameSpeed(good.rpm, now.rpm)) return null;
  const facts = `Build-up brought to ${COMMON_SPAN.fromPsi} to ${COMMON_SPAN.toPsi} psi took ${durationWords(roundHalfAway(after, 0))} on ${now.on}, and ${durationWords(roundHalfAway(before, 0))} on ${good.on}`;
  if (now.lossPsiPerMin === null) return `${facts}: no leak test that counts was made with it; test for a leak before the compressor is blamed.`;
  const share = leakShareOfSlowBuildup(plain(good), plain(now));
  return share === null ? null : `${facts}: ${explanation(share, good)}.`;
}

function explanation(share: number, good: UnitBuildup): string {
  const percent = `${roundHalfAway(share * 20, 0) * 5} %`;
  if (share >= LITTLE_OF_IT && good.lossPsiPerMin === null) {
    const most = share >= 0.975 ? 'all' : `up to ${percent}`;
    return `the leak may explain ${most} of the slow build-up (no leak test that counts on ${good.on}); ${share >= MOST_OF_IT ? 'mend it first, then time again' : 'look at the compressor, its drive and its intake as well'}`;
  }
  if (share >= 0.975) return 'the leak explains all of the slow build-up; mend it first, then time again';
  if (share >= MOST_OF_IT) return `the leak explains ${percent} of the slow build-up; mend it first, then time again`;
  if (share >= LITTLE_OF_IT) return `the leak explains only ${percent} of the slow build-up; look at the compressor, its drive and its intake as well`;
  return 'the leak does not explain the slow build-up; look at the compressor, its drive and its intake';
}

/** Clearly slower, and by more than both gauges explain where they are known. */
function isSlower(good: UnitBuildup, now: UnitBuildup, then: number, today: number): boolean {
  const [a, b] = [riseMargin(good), riseMargin(now)];
  const explained = a === null || b === null ? 0 : Math.hypot(a, b);
  return then - today > Math.max(CLEARLY_SLOWER * then, explained);
}

/** By how much the rise of a test may be off at 95 %, psi a minute. */
function riseMargin({ readablePsi, seconds }: UnitBuildup): number | null {
  const margin = readablePsi === null ? null : lossMargin({ readableTo: readablePsi, sureZ: SURE_Z });
  return margin === null ? null : (60 * margin) / seconds;
}

function isSameSpeed(a: number | null, b: number | null): boolean {
  return a === null || b === null || Math.abs(a - b) <= SAME_SPEED * Math.max(a, b);
}

function plain({ fromPsi, toPsi, seconds, lossPsiPerMin }: UnitBuildup): BuildupTest {
  return { fromPsi, toPsi, seconds, lossPsiPerMin: Math.max(0, lossPsiPerMin ?? 0) };
}
