import { MOST_PERIODS } from '../fleet/choose-period-length.js';
import type { PeriodLength } from '../fleet/period-summary.js';
import { VERDICTS } from '../limits/verdict.js';
import { plainLine } from '../util/plain-line.js';
import type { EvaluatedStrokes } from '../workbook/evaluated-strokes.js';
import type { FleetOutcome } from '../workbook/opened-fleet.js';
import { pullInFirst } from '../workbook/pull-in-first.js';
import { baselineHeadline, baselineNotes } from '../workbook/sheets/baseline-words.js';
import { spanWords } from '../workbook/span-words.js';

/**
 * A few lines that say what came of an evaluation.
 *
 * @param output the file that was written; null for none
 * @param askedBy how long the periods of the trend were asked to be
 */
export function summaryLines(fleet: FleetOutcome, output: string | null, askedBy: PeriodLength | null = null): string[] {
  const { counts: { inspections, verdicts }, problems, plan, summary, source } = fleet;
  const counts = VERDICTS.map((verdict) => `${verdicts[verdict]} ${verdict}`);
  const lines = [`${source.name}: ${counted(inspections, 'inspection')} against ${plan.set.id}: ${counts.join(', ')}.`, ...periodLines(fleet), ...unitLines(fleet), ...baselineLines(fleet)];
  if (fleet.passedOver !== undefined) lines.push(`${counted(inspections - (source.files?.[0]?.inspections ?? 0), 'inspection')} added, ${fleet.passedOver} passed over that the workbook held already.`);
  if (fleet.strokes) lines.push(strokesLine(fleet.strokes, output));
  if (problems.length > 0) {
    lines.push(`${counted(problems.length, 'problem')}${output !== null && /\.xlsx$/i.test(output) ? ' (sheet Problems)' : ''}; the first:`);
    const { row, column, cell, found, expected } = problems[0]!;
    lines.push(`  row ${row ?? '-'}, ${column}${cell ? ` (${cell})` : ''}: found ${JSON.stringify(found.slice(0, 60))}, expected ${expected}`);
  }
  const { by } = summary.period;
  if (askedBy !== null && askedBy !== by) lines.push(`The trend is by ${by}: by ${askedBy} it would have more than ${MOST_PERIODS} rows.`);
  lines.push(plan.set.notice);
  if (output !== null) lines.push(`Wrote ${output}.`);
  return lines;
}

function periodLines({ counts, summary: { period } }: FleetOutcome): string[] {
  if (period.from === null && period.to === null) return [];
  const { inside, before, after, undated, first, last } = counts.period;
  if (inside === 0) {
    const dates = first === null ? 'no inspection has a date' : `the dates go from ${first} to ${last}`;
    return [`No inspection lies in the period (${spanWords(period)}): ${dates}. Trend and rates are empty.`];
  }
  const outside = [[before, 'before'], [after, 'after'], [undated, 'without a date']] as const;
  return [`Counted: ${counted(inside, 'inspection')} ${spanWords(period)}; ${outside.map(([count, words]) => `${count} ${words}`).join(', ')}.`];
}

function unitLines(fleet: FleetOutcome): string[] {
  const { units } = fleet.summary;
  if (units.length === 0) return [];
  const first = pullInFirst(fleet).map(({ unit, toDo }) => `${plain(unit)} (${toDo})`);
  const lines = [first.length > 0 ? `Pull in first: ${first.join('; ')}.` : 'Nothing to pull in: no open failure, no leak shown to reach its limit, nothing overdue.'];
  const worst = units[0]!;
  if (worst.share_now !== null) lines.push(`Worst leak now: ${plain(worst.unit)}, which uses ${Math.round(worst.share_now * 100)} % of its limit; latest verdict ${worst.latest_verdict ?? 'none'}.`);
  return lines;
}

function baselineLines({ baseline, baselineInfo, plan }: FleetOutcome): string[] {
  const all = baseline?.rates.find(({ group }) => group === 'all');
  if (!baseline || !all) return [];
  return [`${baselineHeadline(all, plain(baseline.source.name))}.`, ...baselineNotes(baseline, baselineInfo, { limits: plan.set.id }).map(plain)];
}

/** A text without control characters, which could move the cursor of a terminal. */
function plain(text: string): string {
  return plainLine(text).trim();
}

function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}

function strokesLine({ strokes, evaluation, source }: EvaluatedStrokes, output: string | null): string {
  const counts = VERDICTS.map((verdict) => `${evaluation.chambers.filter((chamber) => chamber.verdict === verdict).length} ${verdict}`);
  const left = output !== null && /\.[ct]sv$/i.test(output) ? ' They are written to workbooks and JSON only.' : '';
  return `Pushrod strokes of ${source.name}: ${counted(strokes.length, 'brake chamber')}: ${counts.join(', ')}.${left}`;
}
