import type { CheckResult, Evaluation } from '../fleet/evaluation.js';
import type { SetPart } from '../limits/set-parts.js';
import type { EvaluatedFleet } from './evaluate-readings.js';
import type { SourceInfo } from './source-info.js';
import { strokesJson } from './strokes-json.js';

/** One inspection as `evaluate --json` prints it. */
export interface InspectionJson extends Omit<Evaluation, 'inspection' | 'computed' | 'checks'> {
  readonly checks: readonly CheckResult[];
}

/** One inspection of an evaluated fleet, in the order of the JSON format. */
export function inspectionJson({ row, inspection_id, inspected_on, unit, verdict, reason, measures, checks, borders }: Evaluation): InspectionJson {
  return { row, inspection_id, inspected_on, unit, verdict, reason, measures, checks, ...(borders ? { borders } : {}) };
}

/**
 * Streams an evaluated fleet as one JSON object, version 1 of `treadlebook-evaluation` (schemas/evaluation.schema.json).
 *
 * @example for await (const piece of evaluationJson(fleet)) process.stdout.write(piece);
 */
export function* evaluationJson({ plan, source, evaluations, summary, strokes, problems, baseline }: EvaluatedFleet): Generator<string> {
  const head = {
    format: 'treadlebook-evaluation',
    version: 1,
    limit_set: named(plan.sets[0]!),
    limit_sets: plan.sets.map(named),
    source: { ...sourceJson(source), ...(source.files ? { files: source.files.map(sourceJson) } : {}) },
  };
  yield `${JSON.stringify(head).slice(0, -1)},"inspections":[`;
  let piece = '';
  for (const [index, evaluation] of evaluations.entries()) {
    piece += (index === 0 ? '\n' : ',\n') + JSON.stringify(inspectionJson(evaluation));
    if (piece.length < 65_536) continue;
    yield piece;
    piece = '';
  }
  const { period, counted_to, units, trend, fail_rates, priors, open_work, fleet } = summary;
  const tail = { period, counted_to, units, trend, fail_rates, priors, open_work, fleet, ...(baseline ? { baseline } : {}), ...(strokes ? strokesJson(strokes) : {}), problems };
  yield `${piece}\n],${JSON.stringify(tail).slice(1)}\n`;
}

function sourceJson({ name, sha256, rows_read, rows_blank, inspections }: SourceInfo): Pick<SourceInfo, 'name' | 'sha256' | 'rows_read' | 'rows_blank' | 'inspections'> {
  return { name, sha256, rows_read, rows_blank, inspections };
}

function named({ set: { id, title }, sha256 }: SetPart): { readonly id: string; readonly title: string; readonly sha256: string } {
  return { id, title, sha256 };
}
