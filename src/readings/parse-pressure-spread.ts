import type { WrittenPressure } from './parse-pressure-text.js';
import { parsePressureText } from './parse-pressure-text.js';
import type { NotUnderstood, ParseResult } from './parse-result.js';
import { notUnderstood, understood } from './parse-result.js';

const PLUS_MINUS = / ?(?:±|\+ ?\/? ?[-–]) ?/u;
const RANGE = / ?(?:[-–—]|\bto\b|\.{2,3}) ?/iu;
const BETWEEN = /^between (.+) and (.+)$/iu;

/** A pressure with the half-width of a written range. */
export interface PressureSpread extends WrittenPressure {
  /** In the written unit; null where no range was written. */
  readonly halfWidth: number | null;
}

/**
 * Reads one pressure or a range of pressures: `104-108`, `104 to 108`, `between 104 and 108`, `104 ± 2`. A unit behind
 * one end holds for both.
 *
 * @param text a text cleaned by `cleanCellText`, without a mark of approximation
 *
 * @example
 * parsePressureSpread('104-108 psi') // { ok: true, value: { value: 106, unit: 'psi', halfWidth: 2 }, exact: false }
 */
export function parsePressureSpread(text: string): ParseResult<PressureSpread> {
  const plusMinus = text.split(PLUS_MINUS);
  const [first = '', second = ''] = plusMinus;
  if (plusMinus.length === 2 && first !== '') {
    return combine(first, second, (middle, halfWidth) => understood({ value: middle, unit: null, halfWidth: halfWidth || null }, false));
  }
  const between = BETWEEN.exec(text);
  const ends = between ? between.slice(1) : text.split(RANGE);
  const [low = '', high = ''] = ends;
  if (ends.length === 2 && low !== '') return combine(low, high, spreadOfRange);
  const single = parsePressureText(text);
  return single.ok ? understood({ ...single.value, halfWidth: null }, single.exact) : single;
}

function combine(
  firstText: string,
  secondText: string,
  join: (first: number, second: number) => ParseResult<PressureSpread>,
): ParseResult<PressureSpread> {
  const first = parsePressureText(firstText);
  if (!first.ok) return first;
  const second = parsePressureText(secondText);
  if (!second.ok) return second;
  const unit = first.value.unit ?? second.value.unit;
  if ((second.value.unit ?? unit) !== unit) return fail('write both ends in the same unit');
  const spread = join(first.value.value, second.value.value);
  return spread.ok ? understood({ ...spread.value, unit }, false) : spread;
}

function spreadOfRange(low: number, high: number): ParseResult<PressureSpread> {
  if (low > high) return fail('write the lower pressure first; if these are two readings, put each in its own column');
  // Nine decimals hold the midpoint of any two written pressures and drop the noise of binary fractions.
  const middle = Number(((low + high) / 2).toFixed(9));
  const halfWidth = Number(((high - low) / 2).toFixed(9));
  return understood({ value: middle, unit: null, halfWidth: halfWidth || null }, false);
}

function fail(hint: string): NotUnderstood {
  return notUnderstood('a pressure', hint);
}
