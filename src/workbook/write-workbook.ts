import { compileLimitSet } from '../limits/compile-limit-set.js';
import { diagnosisOf } from '../limits/diagnosis-for.js';
import type { LimitsGiven } from '../limits/limit-set-of.js';
import { HALF_WIDTH } from '../readings/field.js';
import { buildWorkbook } from './build-workbook.js';
import { emptyDiagnosis } from './empty-diagnosis.js';
import { planOf, type EvaluatedFleet } from './evaluate-readings.js';

/** How to write a workbook. */
export interface WorkbookOptions {
  /** Leaves out the stored result of every formula, so that a spreadsheet program must compute them all. */
  readonly withoutResults?: boolean;
}

/**
 * Streams the evaluated workbook: every computed cell is a live formula with its value stored. The same fleet gives the
 * same bytes.
 *
 * @throws TreadlebookError `output_unwritable` for what a sheet cannot hold
 * @example await pipeline(workbookOf(await evaluateReadings('fleet.csv')), createWriteStream('fleet.xlsx'));
 */
export function workbookOf(fleet: EvaluatedFleet, options: WorkbookOptions = {}): AsyncGenerator<Uint8Array, void, undefined> {
  const { fields } = fleet.plan.dictionary;
  // Half-widths are shown where a range was written; the evaluations know every other column that takes part already.
  const used = new Set([...fleet.plan.optionalColumns].filter((name) => !name.endsWith(HALF_WIDTH)));
  for (const [position, { name }] of fields.entries()) {
    if (name.endsWith(HALF_WIDTH) && fleet.evaluations.some(({ inspection }) => inspection.values[position] !== null)) used.add(name);
  }
  const extras = fleet.columns.filter(({ role }) => role === 'extra').length;
  const widest = fleet.evaluations.reduce((most, { inspection }) => Math.max(most, inspection.extra.length), extras);
  return buildWorkbook({
    plan: compileLimitSet(fleet.plan.set, { optionalColumns: used, diagnosis: diagnosisOf(fleet.plan) }),
    fleet,
    fileColumns: fleet.columns.filter((column) => column.role !== 'field' || !fields[column.position]!.name.endsWith(HALF_WIDTH) || used.has(fields[column.position]!.name)),
    overflow: widest - extras,
    blankRows: 0,
    hidden: emptyDiagnosis(fleet.plan, fleet.evaluations),
    withoutResults: options.withoutResults,
  });
}

/**
 * Streams a blank workbook for entry: the same workbook without rows. Verdicts and fail rates appear as rows are typed.
 *
 * @param rows how many rows are ready for entry, 1 to 5000
 * @example await pipeline(blankWorkbook({ limits: 'us-nevada', rows: 100 }), createWriteStream('blank.xlsx'));
 */
export function blankWorkbook(options: { readonly limits?: LimitsGiven; readonly rows?: number } & WorkbookOptions = {}): AsyncGenerator<Uint8Array, void, undefined> {
  const plan = planOf(options.limits, { optionalColumns: new Set() });
  return buildWorkbook({ plan, fleet: null, fileColumns: [], overflow: 0, blankRows: options.rows ?? 200, withoutResults: options.withoutResults });
}
