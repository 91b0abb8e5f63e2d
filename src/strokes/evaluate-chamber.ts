import { roundHalfAway } from '../util/round-half-away.js';
import { chamberLimit, type ChamberLimit } from './chamber-limit.js';
import { convertLength } from './length-units.js';
import type { StrokeNumbers } from './stroke-numbers.js';
import { LONGEST_STROKE_IN, STROKE_WORDS as SAY, WORD_DECIMALS } from './stroke-words.js';
import { STROKE_FIELDS, type StrokeEntries, type StrokeEntry } from './stroke.js';

/** What can be said of a stroke. `recheck`: the stroke or the chamber must be looked at again. */
export type StrokeVerdict = 'pass' | 'fail' | 'recheck' | 'not tested';

/** One brake chamber, evaluated by itself. */
export interface ChamberResult extends Omit<ChamberLimit, 'limit' | 'limit_high'> {
  /** Null for a row without any entry. */
  readonly verdict: StrokeVerdict | null;
  readonly stroke_in: number | null;
  readonly rated_in: number | null;
  readonly limit_in: number | null;
  readonly limit_high_in: number | null;
  /** Inches past the limit; below zero, what is left to it. */
  readonly excess_in: number | null;
  readonly share_of_limit: number | null;
  /** How many defective brakes it counts as: 0, 0.5 or 1; null without a verdict on the stroke. */
  readonly defective: number | null;
  readonly reason: string;
}

/** What a row without any entry gives. */
export const BLANK_CHAMBER: ChamberResult = { verdict: null, chamber: '', line: 0, highLine: 0, citation: '', status: '', stroke_in: null, rated_in: null, limit_in: null, limit_high_in: null, excess_in: null, share_of_limit: null, defective: null, reason: '' };

/**
 * Holds one stroke against the limit of its chamber. A stroke equal to the limit passes (49 CFR 393.47(e)(1): "must not be
 * greater than"); inches are compared, to six decimals.
 */
export function evaluateChamber(entries: StrokeEntries, numbers: StrokeNumbers, twice = false): ChamberResult {
  if (STROKE_FIELDS.every((field) => entries[field] === null)) return BLANK_CHAMBER;
  const stroke = inInches(entries.stroke, entries.stroke_unit);
  const stroke_in = stroke !== null && stroke >= 0 && stroke <= LONGEST_STROKE_IN ? stroke : null;
  const rated_in = inInches(entries.rated_stroke, entries.stroke_unit);
  const { limit: limit_in, limit_high: limit_high_in, ...found } = chamberLimit(entries, rated_in, numbers);
  const verdict = verdictOf(stroke_in, limit_in, limit_high_in);
  const both = stroke_in !== null && limit_in !== null;
  const excess_in = both ? roundHalfAway(stroke_in - limit_in, 6) : null;
  const { value: whole } = numbers.rules.whole_defect;
  const defective = verdict === 'fail' ? (excess_in! >= (whole ?? 0) ? 1 : 0.5) : verdict === 'not tested' ? null : 0;
  const result = { verdict, ...found, stroke_in, rated_in, limit_in, limit_high_in, excess_in, share_of_limit: both ? stroke_in / limit_in : null, defective };
  return { ...result, reason: reasonOf(entries, result, numbers) + (twice ? SAY.twice : '') };
}

function verdictOf(stroke: number | null, limit: number | null, high: number | null): StrokeVerdict {
  if (stroke === null) return 'not tested';
  if (stroke === 0) return 'recheck';
  if (limit === null) return 'not tested';
  if (stroke <= limit) return 'pass';
  return stroke <= Math.max(limit, high ?? limit) ? 'recheck' : 'fail';
}

/** A length in inches to six decimals; null where it is no number, or its unit is none of ours. */
function inInches(length: StrokeEntry, unit: StrokeEntry): number | null {
  const name = unit === null ? 'in' : String(unit).toLowerCase();
  if (typeof length !== 'number' || (name !== 'in' && name !== 'mm')) return null;
  return roundHalfAway(convertLength(length, name, 'in'), 6);
}

function reasonOf({ stroke, stroke_unit: unit }: StrokeEntries, { verdict, chamber, line, stroke_in: inches, limit_in: limit, limit_high_in: high, excess_in: excess, defective }: Omit<ChamberResult, 'reason'>, { limits }: StrokeNumbers): string {
  if (inches === null) {
    if (stroke === null || stroke === '') return SAY.noStroke;
    if (typeof stroke === 'string') return SAY.notUnderstood;
    return unit === null || ['in', 'mm'].includes(String(unit).toLowerCase()) ? SAY.implausible : SAY.unit;
  }
  if (inches === 0) return SAY.notMoved;
  if (chamber === '') return SAY.noSize;
  if (limit === null) return `${chamber}${SAY.notListed}`;
  const what = `(${chamber}${line === 0 ? SAY.byRated : ''})`;
  if (verdict === 'recheck') return `${said(inches)} in is between the limits of ${chamber}: ${said(limit)} in with a rated stroke of 2-1/2 in, ${said(high!)} in with one of 3 in; choose the stroke kind`;
  if (verdict === 'pass') return `${said(inches)} in of the ${said(limit)} in allowed ${what}${inches === limit ? SAY.atLimit : ''}`;
  const printed = line > 0 && String(unit ?? '').toLowerCase() === 'mm' && (stroke as number) <= limits[line - 1]!.limit_mm ? `; ${said(stroke as number)}${SAY.printedMm}` : '';
  return `${said(inches)} in is ${said(excess!)} in past the limit of ${said(limit)} in ${what}${defective === 1 ? SAY.whole : SAY.half}${printed}`;
}

/** A number of inches in words. */
function said(value: number): string {
  return String(roundHalfAway(value, WORD_DECIMALS));
}
