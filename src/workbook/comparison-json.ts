import { z } from 'zod';
import { DIFFERENCE_KINDS } from '../readings/compare-cells.js';
import type { ComparedReadings } from './compare-readings.js';

const count = z.int().min(0);
const share = z.number().min(0).max(1);
const identity = { inspection_id: z.string(), inspected_on: z.string(), unit: z.string() };

const sourceSchema = z
  .strictObject({ name: z.string(), sheet: z.string(), sha256: z.string(), rows_read: count, rows_blank: count, rows_set_aside: count, inspections: count, sheets_not_read: z.array(z.string()) })
  .meta({ id: 'ComparedSource' });

const unmatchedSchema = z.strictObject({ row: z.int(), ...identity }).meta({ id: 'UnmatchedInspection' });

const columnSchema = z
  .strictObject({ column: z.string(), compared_cells: count, agreeing_cells: count, differences: count, agreement: share })
  .meta({ id: 'ColumnAgreement' });

const differenceSchema = z
  .strictObject({
    row_a: z.int(),
    row_b: z.int(),
    cell_a: z.string().describe('as a spreadsheet names it; empty where the keying has no such column'),
    cell_b: z.string(),
    column: z.string(),
    text_a: z.string().describe('as found; behind an equals sign what it means, where both texts look alike'),
    text_b: z.string(),
    kind: z.enum(DIFFERENCE_KINDS),
    ...identity,
  })
  .meta({ id: 'Difference' });

/** The object that `treadlebook compare --json` prints, version 1. */
export const comparisonSchema = z
  .strictObject({
    format: z.literal('treadlebook-comparison'),
    version: z.literal(1),
    a: sourceSchema,
    b: sourceSchema,
    matched: count,
    matched_by: z.strictObject({ inspection_id: count, 'unit and date': count, 'unit or date': count }),
    missing: z.array(unmatchedSchema).describe('inspections in A only'),
    extra: z.array(unmatchedSchema).describe('inspections in B only'),
    compared_cells: count.describe('cells of matched inspections that are filled in at least one keying'),
    agreeing_cells: count,
    agreement: share.nullable().describe('null when no cell was compared'),
    columns: z.array(columnSchema).describe('the worst keyed first'),
    differences: z.array(differenceSchema),
  })
  .meta({ id: 'Comparison', title: 'Two keyings of the same paper, compared' });

/** What `comparisonJson` writes, parsed. */
export type ComparisonJson = z.output<typeof comparisonSchema>;

/**
 * Streams a comparison as one JSON object, version 1 of `treadlebook-comparison`.
 *
 * @example for (const piece of comparisonJson(compared)) process.stdout.write(piece);
 */
export function* comparisonJson({ differences, ...compared }: ComparedReadings): Generator<string> {
  const { a, b, matched, matched_by, missing, extra, compared_cells, agreeing_cells, agreement, columns } = compared;
  const head = { format: 'treadlebook-comparison', version: 1, a, b, matched, matched_by, missing, extra, compared_cells, agreeing_cells, agreement, columns };
  yield `${JSON.stringify(head).slice(0, -1)},"differences":[`;
  let piece = '';
  for (const [index, difference] of differences.entries()) {
    piece += (index === 0 ? '\n' : ',\n') + JSON.stringify(difference);
    if (piece.length < 65_536) continue;
    yield piece;
    piece = '';
  }
  yield `${piece}\n]}\n`;
}
