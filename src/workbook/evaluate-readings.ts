import type { Evaluation } from '../fleet/evaluation.js';
import { openFleet } from './open-fleet.js';
import type { EvaluateOptions, FleetOutcome, OpenedFleet } from './opened-fleet.js';
import type { ReadingsInput } from './readings-input.js';

/** An evaluated fleet: every inspection with its verdict, the figures of the fleet, and what could not be taken as it stood. */
export interface EvaluatedFleet extends FleetOutcome {
  readonly evaluations: readonly Evaluation[];
}

/**
 * Reads a table and evaluates every inspection: the main job. What it returns can be written as a workbook, CSV or JSON.
 * Every inspection is evaluated, whatever the period; the summaries count those in it.
 * Several inputs are read as one table, in their order: the rows count on, and a problem names its file.
 *
 * @throws TreadlebookError as {@link openReadings}; `input_empty` when there is no inspection below the header; `usage` for
 *   a period that is none; what is wrong with a baseline says that it is the baseline
 * @example
 * const fleet = await evaluateReadings('samples/invented-fleet.csv');
 * console.log(fleet.summary.units[0].unit);
 * @example
 * const fleet = await evaluateReadings('2026.csv', { from: '2026-04-01', to: '2026-06-30', by: 'month', baseline: '2025.xlsx' });
 * console.log(fleet.baseline.rates[0].verdict); // 'better', 'worse', 'no difference shown' or 'not to be compared'
 */
export async function evaluateReadings(input: ReadingsInput | readonly ReadingsInput[], options: EvaluateOptions = {}): Promise<EvaluatedFleet> {
  return collectFleet(await openFleet(input, options));
}

/** Takes every evaluation of a fleet that was opened, and keeps them. */
export async function collectFleet(fleet: OpenedFleet): Promise<EvaluatedFleet> {
  const evaluations: Evaluation[] = [];
  for await (const evaluation of fleet.evaluations) evaluations.push(evaluation);
  return { ...fleet.outcome(), evaluations };
}
