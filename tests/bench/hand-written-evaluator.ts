import type { Verdict } from '../../dist/limits/verdict.js';
import type { Dictionary } from '../../dist/readings/dictionary.js';
import type { Entry, Inspection } from '../../dist/readings/inspection.js';
import { PSI_PER as PER } from '../../dist/readings/pressure-units.js';
import { normalCdf } from '../../dist/statistics/normal-cdf.js';
import { roundHalfAway } from '../../dist/util/round-half-away.js';

type N = number | null;

/** What one check of the limit set common-practice comes to. */
export interface HandWrittenCheck {
  readonly check: string;
  readonly value: N;
  readonly limit: number;
  readonly verdict: Verdict;
  readonly share_of_limit: N;
  readonly chance_within_limit: N;
  readonly reason: string;
}

/** What one inspection comes to. */
export interface HandWrittenEvaluation {
  readonly verdict: Verdict;
  readonly reason: string;
  readonly measures: Readonly<Record<string, N>>;
  readonly checks: readonly HandWrittenCheck[];
}

// The values of the limit set common-practice and of the facts, as they stand in its sheet Limits.
const LIMITS = { released_loss: 3, applied_loss: 4, warning: 60, buildup: 300 } as const;
const PSI_PER: Readonly<Record<string, number>> = { psi: 1, kpa: PER.kPa, bar: PER.bar };
const DIGITAL_STEP = 2;
const NEEDLE_SHARE = 0.12;
const HIGHEST = 200;
const SURE = 0.95;
const SURE_Z = 1.6448536269514722;
const ROOT_12 = Math.sqrt(12);
const CANNOT = 'the readings cannot decide it';

const six = (value: number): number => roundHalfAway(value, 6);
const atMost = (a: number, b: number): boolean => six(a) <= six(b);
const below = (a: N, b: N): boolean => a !== null && b !== null && six(a) < six(b);
const above = (a: N, b: N): boolean => a !== null && b !== null && six(a) > six(b);
const same = (a: N, b: N): boolean => a !== null && b !== null && six(a) === six(b);
const two = (value: number): string => String(roundHalfAway(value, 2));
const finite = (value: number): N => (Number.isFinite(value) ? value : null);
const noNoise = (difference: number, a: number): number => (Math.abs(difference) < Math.abs(a) * 2 ** -48 ? 0 : difference);
const minus = (a: N, b: N): N => (a === null || b === null ? null : noNoise(a - b, a));
const over = (a: N, b: N): N => (a === null || b === null ? null : finite(a / b));
const rootOfSquares = (a: number, b: number): number => Math.sqrt(a * a + b * b);
const higher = (a: N, b: N): N => (a === null ? b : b === null || a >= b ? a : b);
const lower = (a: N, b: N): N => (a === null ? b : b === null || a <= b ? a : b);

function duration(seconds: number): string {
  const whole = roundHalfAway(seconds, 0);
  if (whole < 120) return `${roundHalfAway(seconds, 1)} s`;
  const rest = whole % 60;
  return `${Math.floor(whole / 60)} min${rest > 0 ? ` ${rest} s` : ''}`;
}

/** One needle of a loss test, in psi and as entered. */
interface Needle {
  readonly circuit: 'primary' | 'secondary';
  readonly start: N;
  readonly end: N;
  readonly enteredStart: N;
  readonly enteredEnd: N;
}

interface LossTest {
  readonly word: 'released' | 'applied';
  readonly needles: readonly [Needle, Needle];
  readonly time: N;
}

/**
 * What a programmer would write for the limit set common-practice alone, with its numbers and words in the code: the pace
 * that the evaluator of any limit set is set beside. A test proves that both say the same.
 */
export function handWrittenEvaluator(dictionary: Dictionary): (inspection: Inspection) => HandWrittenEvaluation {
  const at = (name: string): number => dictionary.position.get(name)!;
  const titles = new Map(dictionary.fields.map(({ name, title }) => [name, title]));
  const positions = dictionary.fields.filter(({ kind }) => kind === 'pressure').map(({ name }) => [name, at(name)] as const);
  const pressureAt = Object.fromEntries(positions);
  const [unitAt, stepAt, readableAt, vehiclesAt] = [at('pressure_unit'), at('gauge_step'), at('readable_to'), at('vehicles')];
  const [releasedTimeAt, appliedTimeAt, settleAt, buildupTimeAt] = [at('released_time'), at('applied_time'), at('applied_settle_time'), at('buildup_time')];

  return (inspection) => {
    const { values, notRead } = inspection;
    const given = values[unitAt] as string | null;
    const unit = given ?? 'psi';
    const factor = given === null ? (notRead.includes('pressure_unit') ? null : 1) : (PSI_PER[given.toLowerCase()] ?? null);
    const entered = (position: number): N => (typeof values[position] === 'number' ? (values[position] as number) : null);
    const psi = (position: number): N => {
      const entry: Entry = values[position] ?? null;
      return factor === null ? null : entry === 'never' ? 0 : typeof entry === 'number' ? entry * factor : null;
    };
    const needle = (circuit: 'primary' | 'secondary', start: number, end: number): Needle => ({ circuit, start: psi(start), end: psi(end), enteredStart: entered(start), enteredEnd: entered(end) });
    const step = psi(stepAt);
    const readable = psi(readableAt) ?? (step === null ? null : atMost(step, DIGITAL_STEP) ? step : NEEDLE_SHARE * step);
    const vehicles = (values[vehiclesAt] ?? null) === null ? 1 : (values[vehiclesAt] as number);
    const reads = readable === null ? null : readable / ROOT_12;

    const missing = (names: readonly string[], all: boolean): string => {
      const blanks = names.filter((name) => (pressureAt[name] === undefined ? (values[at(name)] ?? null) === null : psi(pressureAt[name]) === null));
      if (blanks.length === 0) return 'not tested; it cannot be worked out from these readings';
      if (all && blanks.length === names.length) return 'not tested; nothing was entered';
      return `not tested; blank or not understood:${blanks.map((name) => ` [${titles.get(name)}]`).join('')}`;
    };
    const finer = (uncertainty: N, distance: number): string | null => {
      if (uncertainty === null || readable === null || factor === null) return null;
      const to = readable / ((SURE_Z * uncertainty) / distance) / factor;
      return Number.isFinite(to) ? `use a gauge that can be read to ${two(Math.floor(roundHalfAway(to * 100, 6)) / 100)} ${unit}` : null;
    };
    const longer = (time: N, uncertainty: N, distance: number): string | null => {
      if (time === null || uncertainty === null) return null;
      const hold = time * ((SURE_Z * uncertainty) / distance);
      return Number.isFinite(hold) ? duration(Math.ceil(roundHalfAway(hold / 30, 6)) * 30) : null;
    };
    const doubtful = (chance: N): chance is number => above(chance, 1 - SURE) && below(chance, SURE);

    const loss = ({ word, needles: [primary, secondary], time }: LossTest) => {
      const rate = ({ start, end }: Needle): N => (start === null || end === null || time === null ? null : finite((60 * noNoise(start - end, start)) / time));
      const rates = [rate(primary), rate(secondary)] as const;
      const worse = higher(rates[0], rates[1]);
      const uncertainty = time === null || reads === null ? null : finite(rootOfSquares((60 / time) * reads, (-60 / time) * reads));
      const ofWorse = same(rates[0], worse) ? primary : secondary;
      return { word, primary, secondary, time, rates, worse, uncertainty, ofWorse };
    };
    type Loss = ReturnType<typeof loss>;

    const lossDoubt = ({ word, primary, secondary, time }: Loss): string | null => {
      for (const { circuit, start, end, enteredStart, enteredEnd } of [primary, secondary]) {
        if (above(end, start)) return `the ${circuit} gauge rose from ${two(enteredStart!)} to ${two(enteredEnd!)} ${unit} during the ${word} test; a leak cannot raise it, so test again with the engine off`;
        if (end !== null && start === null) return `the ${word} test has a ${circuit} end reading but no start`;
        if (start !== null && end === null) return `the ${word} test has a ${circuit} start reading but no end that can be read`;
      }
      if (below(time, 60)) return `the ${word} loss was timed for ${duration(time!)}, less than the rule's minute`;
      const settle = (values[settleAt] ?? null) as N;
      if (word === 'applied' && atMost(vehicles, 1) && above(settle, 120)) return `the needles were left to settle for ${duration(settle!)}, longer than the 2 min that a single vehicle gets`;
      return tooHigh([primary.enteredStart, primary.enteredEnd, secondary.enteredStart, secondary.enteredEnd]);
    };
    const tooHigh = (readings: readonly N[]): string | null => {
      const highest = readings.reduce(higher, null);
      if (highest === null || factor === null || !above(highest * factor, HIGHEST)) return null;
      return `a reading of ${two(highest)} ${unit} is higher than any gauge of this kind shows; check its unit and digits`;
    };

    const finish = (check: keyof typeof LIMITS, title: string, value: N, doubt: string | null, said: () => string, notTested: () => string, side: 'at most' | 'at least', allowed: string, uncertainty: N, hold: ((distance: number) => string | null) | null): HandWrittenCheck => {
      const limit = LIMITS[check];
      const verdict: Verdict = doubt !== null ? 'recheck' : value === null ? 'not tested' : (side === 'at most' ? atMost(value, limit) : atMost(limit, value)) ? 'pass' : 'fail';
      if (verdict === 'recheck') return { check, value, limit, verdict, share_of_limit: null, chance_within_limit: null, reason: `${title}: ${doubt}.` };
      if (verdict === 'not tested') return { check, value, limit, verdict, share_of_limit: null, chance_within_limit: null, reason: `${title}: ${notTested()}.` };
      const margin = side === 'at most' ? noNoise(limit - value!, limit) : noNoise(value! - limit, value!);
      const z = uncertainty === null ? null : finite(margin / uncertainty);
      const chance = z === null ? null : normalCdf(z);
      let reason = `${title}: ${said()}; ${allowed}.`;
      if (doubtful(chance)) {
        const distance = Math.abs(noNoise(limit - value!, limit));
        const longest = hold === null ? null : hold(distance);
        const sharper = finer(uncertainty, distance);
        const mend = longest !== null && sharper !== null ? `hold the test for ${longest}, or ${sharper}` : longest !== null ? `hold the test for ${longest}` : hold === null ? sharper : null;
        const then = !above(distance, 0) ? ': it lies at the limit, and only a finer gauge can tell.' : mend === null ? '.' : `. To decide it, ${mend}.`;
        reason += ` The gauge is too coarse to be sure (chance of being within the limit ${String(roundHalfAway(chance * 100, 1))} %)${then}`;
      }
      return { check, value, limit, verdict, share_of_limit: side === 'at most' ? over(value, limit) : over(limit, value), chance_within_limit: chance, reason };
    };

    const lossCheck = (check: 'released_loss' | 'applied_loss', test: Loss): HandWrittenCheck => {
      const { word, time, worse, uncertainty, ofWorse, rates } = test;
      const said = (): string => {
        const rate = ofWorse.circuit === 'primary' ? rates[0]! : rates[1]!;
        return `the ${ofWorse.circuit} circuit fell from ${two(ofWorse.enteredStart!)} to ${two(ofWorse.enteredEnd!)} ${unit} in ${duration(time!)} with the brakes ${word}, ${two(rate)} psi/min`;
      };
      const names = [`${word}_primary_start`, `${word}_primary_end`, `${word}_time`, `${word}_secondary_start`, `${word}_secondary_end`];
      return finish(check, `Loss, brakes ${word}`, worse, lossDoubt(test), said, () => missing(names, true), 'at most', `at most ${LIMITS[check]} psi/min is allowed`, uncertainty, (distance) => longer(time, uncertainty, distance));
    };

    const released = loss({ word: 'released', needles: [needle('primary', pressureAt['released_primary_start']!, pressureAt['released_primary_end']!), needle('secondary', pressureAt['released_secondary_start']!, pressureAt['released_secondary_end']!)], time: (values[releasedTimeAt] ?? null) as N });
    const applied = loss({ word: 'applied', needles: [needle('primary', pressureAt['applied_primary_start']!, pressureAt['applied_primary_end']!), needle('secondary', pressureAt['applied_secondary_start']!, pressureAt['applied_secondary_end']!)], time: (values[appliedTimeAt] ?? null) as N });

    const [light, buzzer] = [psi(pressureAt['light_on_at']!), psi(pressureAt['buzzer_on_at']!)];
    const warned = lower(light, buzzer);
    const [enteredLight, enteredBuzzer] = [entered(pressureAt['light_on_at']!), entered(pressureAt['buzzer_on_at']!)];
    const saidWarning = (): string =>
      same(light, warned)
        ? same(light, 0) ? 'the warning light never came on' : `the warning light came on at ${two(enteredLight!)} ${unit}`
        : same(buzzer, 0) ? 'the buzzer never sounded' : `the buzzer sounded at ${two(enteredBuzzer!)} ${unit}`;

    const [from, to, cutIn, cutOut] = [psi(pressureAt['buildup_from']!), psi(pressureAt['buildup_to']!), psi(pressureAt['cut_in']!), psi(pressureAt['cut_out']!)];
    const [enteredFrom, enteredTo, enteredCutOut] = [entered(pressureAt['buildup_from']!), entered(pressureAt['buildup_to']!), entered(pressureAt['cut_out']!)];
    const took = (values[buildupTimeAt] ?? null) as N;
    const buildupDoubt = (): string | null => {
      if (above(to, HIGHEST)) return `the build-up ends at ${two(enteredTo!)} ${unit}, higher than any gauge of this kind shows; check its unit and digits`;
      if (to !== null && from !== null && atMost(to, from)) return enteredFrom === null || enteredTo === null ? CANNOT : `the build-up ends at ${two(enteredTo)}, no higher than it began (${two(enteredFrom)} ${unit})`;
      if (cutOut !== null && took !== null && below(to, noNoise(cutOut - 5, cutOut)) && atMost(took, 300)) return `the build-up was stopped at ${two(enteredTo!)} ${unit}, short of the cut-out at ${two(enteredCutOut!)}`;
      return null;
    };
    const saidBuildup = (): string => (from !== null && to !== null ? `build-up from ${two(enteredFrom!)} to ${two(enteredTo!)} ${unit} took ${duration(took!)}` : `build-up took ${duration(took!)}`);

    const checks = [
      lossCheck('released_loss', released),
      lossCheck('applied_loss', applied),
      finish('warning', 'Low-air warning', warned, tooHigh([enteredLight, enteredBuzzer]), saidWarning, () => missing(['light_on_at', 'buzzer_on_at'], true), 'at least', 'at least 60 psi is required', reads === null ? null : Math.abs(reads), null),
      finish('buildup', 'Build-up', took, buildupDoubt(), saidBuildup, () => missing(['buildup_time'], false), 'at most', 'at most 5 min is allowed', null, null),
    ];

    const unread = dictionary.fields.filter(({ name }) => notRead.includes(name) && !name.endsWith('_half_width')).map(({ title }) => ` [${title}]`).join('');
    const some = (verdict: Verdict): boolean => checks.some((check) => check.verdict === verdict);
    const verdict: Verdict = some('fail') ? 'fail' : some('recheck') ? 'recheck' : some('not tested') ? 'not tested' : unread !== '' ? 'recheck' : 'pass';
    let reason = verdict === 'pass' ? 'Passes.' : verdict === 'fail' ? 'Fails.' : verdict === 'recheck' ? 'Not decided.' : 'Not complete.';
    for (const check of checks) if (check.verdict === 'fail') reason += ` ${check.reason}`;
    for (const check of checks) if (check.verdict === 'recheck' || check.verdict === 'not tested') reason += ` ${check.reason}`;
    for (const [index, check] of checks.entries()) {
      if (check.verdict !== 'pass' || !doubtful(check.chance_within_limit)) continue;
      const test = index === 0 ? released : index === 1 ? applied : null;
      const hold = test === null ? null : longer(test.time, test.uncertainty, Math.abs(noNoise(check.limit - check.value!, check.limit)));
      reason += ` ${index === 0 ? 'Loss, brakes released' : index === 1 ? 'Loss, brakes applied' : 'Low-air warning'}: within the limit with a chance of only ${String(roundHalfAway(check.chance_within_limit * 100, 1))} % on this gauge${hold === null ? '.' : `; hold ${hold} to decide.`}`;
    }
    if (unread !== '') reason += ` Not understood:${unread}.`;

    const reserve = [psi(pressureAt['reserve_before']!), psi(pressureAt['reserve_after']!)] as const;
    const between = minus(released.primary.start, released.secondary.start);
    const measures = {
      released_loss_primary: released.rates[0], released_loss_secondary: released.rates[1], released_loss: released.worse,
      applied_loss_primary: applied.rates[0], applied_loss_secondary: applied.rates[1], applied_loss: applied.worse,
      light_on_at: light, buzzer_on_at: buzzer, warning_on_at: warned,
      buildup_time: took, buildup_rate: over(minus(to, from), took), cut_in: cutIn, cut_out: cutOut, governor_span: minus(cutOut, cutIn),
      parking_valve_closes_at: psi(pressureAt['parking_valve_closes_at']!), trailer_valve_closes_at: psi(pressureAt['trailer_valve_closes_at']!),
      reserve_share: over(reserve[1], reserve[0]), circuit_difference: between === null ? null : Math.abs(between),
    };
    return { verdict, reason, measures, checks };
  };
}
