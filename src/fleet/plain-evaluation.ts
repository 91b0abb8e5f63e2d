import type { Evaluation } from './evaluation.js';

/** An evaluation as a plain object that holds all of it: to copy it with changes, for JSON, or to send it to a worker. */
export function plainEvaluation({ row, inspection_id, inspected_on, unit, verdict, reason, measures, checks, borders, inspection, computed }: Evaluation): Evaluation {
  return { row, inspection_id, inspected_on, unit, verdict, reason, measures, checks, ...(borders ? { borders } : {}), inspection, computed };
}
