import { VERDICTS } from '../limits/verdict.js';
import type { EvaluatedStrokes } from '../workbook/evaluated-strokes.js';
import type { EvaluatedFleet } from '../workbook/evaluate-readings.js';

/** A few lines that say what came of an evaluation. */
export function summaryLines(fleet: EvaluatedFleet, output: string | null): string[] {
  const { evaluations, problems, plan, summary, source } = fleet;
  const counts = VERDICTS.map((verdict) => `${evaluations.filter((evaluation) => evaluation.verdict === verdict).length} ${verdict}`);
  const lines = [`${source.name}: ${counted(evaluations.length, 'inspection')} against ${plan.set.id}: ${counts.join(', ')}.`];
  const worst = summary.units[0];
  if (worst && worst.share_now !== null) lines.push(`Worst unit: ${worst.unit}, which uses ${Math.round(worst.share_now * 100)} % of a leak's limit now; latest verdict ${worst.latest_verdict ?? 'none'}.`);
  if (fleet.strokes) lines.push(strokesLine(fleet.strokes, output));
  if (problems.length > 0) {
    lines.push(`${counted(problems.length, 'problem')}${output === null ? '' : ' (sheet Problems)'}; the first:`);
    const { row, column, cell, found, expected } = problems[0]!;
    lines.push(`  row ${row ?? '-'}, ${column}${cell ? ` (${cell})` : ''}: found ${JSON.stringify(found.slice(0, 60))}, expected ${expected}`);
  }
  lines.push(plan.set.notice);
  if (output !== null) lines.push(`Wrote ${output}.`);
  return lines;
}

function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}

function strokesLine({ strokes, evaluation, source }: EvaluatedStrokes, output: string | null): string {
  const counts = VERDICTS.map((verdict) => `${evaluation.chambers.filter((chamber) => chamber.verdict === verdict).length} ${verdict}`);
  const left = output !== null && /\.[ct]sv$/i.test(output) ? ' They are written to workbooks and JSON only.' : '';
  return `Pushrod strokes of ${source.name}: ${counted(strokes.length, 'brake chamber')}: ${counts.join(', ')}.${left}`;
}
