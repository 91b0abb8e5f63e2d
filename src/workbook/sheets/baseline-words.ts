import type { BaselineComparison, DifferenceWord, MedianDifference, RateDifference } from '../../fleet/baseline-comparison.js';
import { toShown, unitShown, type ShownIn } from '../../limits/shown-pressure.js';
import type { BaselineInfo } from '../baseline-info.js';
import { LOSS_FORMATS } from '../loss-formats.js';

const MEDIANS: Readonly<Record<MedianDifference['figure'], { readonly title: string; readonly unit: string }>> = {
  released_loss: { title: 'Loss, brakes released', unit: 'psi/min' },
  applied_loss: { title: 'Loss, brakes applied', unit: 'psi/min' },
  buildup_time: { title: 'Build-up time', unit: 's' },
};

/** What a median is called, its two values in the unit in which they are shown, and their number format. */
export function shownMedian({ figure, before, now }: MedianDifference, shownIn: ShownIn): { readonly title: string; readonly before: number | null; readonly now: number | null; readonly format: string } {
  const { title, unit } = MEDIANS[figure];
  const { shownPressure: shown } = shownIn;
  return { title: `${title} (${unitShown(unit, shown)})`, before: toShown(before, unit, shownIn), now: toShown(now, unit, shownIn), format: unit === 's' ? '0' : LOSS_FORMATS[shown].usual };
}

const OPENINGS: Readonly<Record<DifferenceWord, (baseline: string) => string>> = {
  better: (baseline) => `Better than ${baseline}`,
  worse: (baseline) => `Worse than ${baseline}`,
  'no difference shown': (baseline) => `No difference from ${baseline} shown`,
  'not to be compared': (baseline) => `Not to be compared with ${baseline}`,
};

/**
 * Whether fewer or more fail than in the baseline, in words, with the numbers.
 *
 * @param rate the rates of all inspections
 * @param name the baseline's name; left out where it stands nearby
 * @example
 * baselineHeadline(comparison.rates[0])
 * // 'Better than the baseline: 7.5 % of 120 tested failed now, 20.4 % of 98 then; difference -12.9 points, 95 % interval -22.3 to -3.8'
 */
export function baselineHeadline(rate: RateDifference, name = ''): string {
  const { now, before, difference, low, high, verdict } = rate;
  const opening = OPENINGS[verdict](`the baseline${name === '' ? '' : ` ${name}`}`);
  if (difference === null || low === null || high === null) {
    const empty = [...(now.tested === 0 ? ['of those counted now'] : []), ...(before.tested === 0 ? ['of the baseline'] : [])];
    return `${opening}: no inspection ${empty.join(' and none ')} passed or failed`;
  }
  return `${opening}: ${share(now.rate)} of ${now.tested} tested failed now, ${share(before.rate)} of ${before.tested} then; difference ${points(difference)} points, 95 % interval ${points(low)} to ${points(high)}`;
}

/** What must be known of a baseline before its rates are believed; empty when there is nothing. */
export function baselineNotes(comparison: BaselineComparison, info: BaselineInfo | null | undefined, now: { readonly limits: string }): string[] {
  if (!info) return [];
  const notes: string[] = [];
  if (info.shared > 0) notes.push(`${many(info.shared, 'inspection')} ${info.shared === 1 ? 'is' : 'are'} counted on both sides (same inspection_id and unit; without an inspection_id, same unit and date): a real difference looks smaller than it is.`);
  if (info.otherLimits !== null) notes.push(`The baseline was evaluated with ${info.otherLimits}. Here it is evaluated anew with ${now.limits}, like this table, so that its rates are not those that it shows itself.`);
  const { before, now: after } = comparison;
  if (before.from !== null && before.to !== null && after.from !== null && after.to !== null) {
    if (before.from > after.to) notes.push(`The baseline is the later of the two: it begins on ${before.from}.`);
    else if (before.to >= after.from) notes.push(`The dates of the two overlap: the baseline goes up to ${before.to}, what is counted now begins on ${after.from}.`);
  }
  const { undated } = info.counts;
  if (undated > 0 && info.period.from === null && info.period.to === null) notes.push(`${many(undated, 'inspection')} of the baseline ${undated === 1 ? 'has' : 'have'} no date that could be read and ${undated === 1 ? 'is' : 'are'} counted all the same.`);
  if (info.problems > 0) notes.push(`${many(info.problems, 'cell')} of the baseline could not be taken as ${info.problems === 1 ? 'it' : 'they'} stood; evaluate it by itself to see which.`);
  return notes;
}

function many(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}

function share(rate: number | null): string {
  return `${((rate ?? 0) * 100).toFixed(1)} %`;
}

function points(difference: number): string {
  const rounded = (difference * 100).toFixed(1);
  return Number(rounded) > 0 ? `+${rounded}` : Number(rounded) === 0 ? '0.0' : rounded;
}
