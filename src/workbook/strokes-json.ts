import { z } from 'zod';
import { STROKE_FIELDS } from '../strokes/stroke.js';
import type { EvaluatedStrokes } from './evaluated-strokes.js';

const entry = z.union([z.string(), z.number(), z.null()]);
const entries = Object.fromEntries(STROKE_FIELDS.map((field) => [field, entry])) as Record<(typeof STROKE_FIELDS)[number], typeof entry>;
const number = z.number().nullable();
const counted = z.int().min(0);

/** One brake chamber as `evaluate --json` prints it. */
export const strokeSchema = z
  .strictObject({
    row: z.int(),
    ...entries,
    as_found: z.record(z.string(), z.string()).describe('texts as found, where they say more than the entry'),
    chamber: z.string(),
    stroke_in: number.describe('in'),
    limit_in: number.describe('in'),
    verdict: z.enum(['pass', 'fail', 'recheck', 'not tested']).nullable(),
    excess_in: number.describe('in past the limit; below zero, what is left to it'),
    share_of_limit: number,
    across_axle_in: number.describe('in between left and right of the axle'),
    defective: number.describe('defective brakes that it counts as: 0, 0.5 or 1'),
    reason: z.string(),
    citation: z.string(),
    status: z.string(),
  })
  .meta({ id: 'Stroke', title: 'The pushrod stroke of one brake chamber' });

/** The brakes of one vehicle in one inspection. */
export const vehicleStrokesSchema = z
  .strictObject({ unit: entry, inspected_on: entry, inspection_id: entry, measured: counted, past_whole: counted, past_half: counted, recheck: counted, not_tested: counted, defective: z.number().min(0), defective_share: number, words: z.string() })
  .meta({ id: 'VehicleStrokes', title: 'The brakes of one vehicle in one inspection' });

/** The fail rate of one position. */
export const positionStrokesSchema = z
  .strictObject({ position: z.string(), tested: counted, failed: counted, rate: number, low: number, high: number })
  .meta({ id: 'PositionStrokes', title: 'The fail rate of strokes at one position' });

/** What `evaluate --json` adds where there are strokes. */
export const strokesJsonSchema = z.strictObject({
  strokes_source: z.strictObject({ name: z.string(), sheet: z.string(), sha256: z.string(), rows_read: counted, rows_blank: counted, rows_set_aside: counted, strokes: counted }),
  strokes: z.array(strokeSchema),
  stroke_vehicles: z.array(vehicleStrokesSchema),
  stroke_positions: z.array(positionStrokesSchema),
});

/** A table of strokes in the form of {@link strokesJsonSchema}. */
export type StrokesJson = z.output<typeof strokesJsonSchema>;

/** The strokes of an evaluated fleet in the order of the JSON format. */
export function strokesJson({ strokes, evaluation, source }: EvaluatedStrokes): StrokesJson {
  return {
    strokes_source: source,
    strokes: strokes.map(({ row, entries: entered, asFound }, index) => {
      const { chamber, stroke_in, limit_in, verdict, excess_in, share_of_limit, across_axle_in, defective, reason, citation, status } = evaluation.chambers[index]!;
      return { row, ...entered, as_found: Object.fromEntries(asFound), chamber, stroke_in, limit_in, verdict, excess_in, share_of_limit, across_axle_in, defective, reason, citation, status };
    }),
    stroke_vehicles: [...evaluation.vehicles],
    stroke_positions: [...evaluation.positions],
  };
}
