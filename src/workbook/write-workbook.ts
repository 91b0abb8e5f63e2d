import { compileLimitSet } from '../limits/compile-limit-set.js';
import { diagnosisOf } from '../limits/diagnosis-for.js';
import type { LimitsGiven } from '../limits/limit-set-of.js';
import { HALF_WIDTH } from '../readings/field.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { buildWorkbook, MOST_LIVE_INSPECTIONS } from './build-workbook.js';
import { emptyDiagnosis } from './empty-diagnosis.js';
import { type EvaluatedFleet } from './evaluate-readings.js';
import { planOf } from './plan-for.js';

/** How to write a workbook. */
export interface WorkbookOptions {
  /** Leaves out the stored result of every formula, so that a spreadsheet program must compute them all. */
  readonly withoutResults?: boolean;
  /**
   * The most inspections on one sheet of readings: those beyond go on in Readings 2, Readings 3 and so on. As many as a sheet
   * holds, 1,048,573, when left out.
   */
  readonly rowsPerSheet?: number;
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
    if (name.endsWith(HALF_WIDTH) && fleet.evaluations.some(({ inspection }) => (inspection.values[position] ?? null) !== null)) used.add(name);
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
    rowsPerSheet: options.rowsPerSheet,
    withoutResults: options.withoutResults,
  });
}

/** The most rows of a blank workbook. */
const MOST_BLANK_ROWS = MOST_LIVE_INSPECTIONS;

/**
 * Streams a blank workbook for entry: the same workbook without rows. Verdicts and fail rates appear as rows are typed.
 *
 * @param rows how many rows are ready for entry, 1 to 5000
 * @throws TreadlebookError `usage` for another number of rows
 * @example await pipeline(blankWorkbook({ limits: 'us-nevada', rows: 100 }), createWriteStream('blank.xlsx'));
 */
export function blankWorkbook(options: { readonly limits?: LimitsGiven; readonly rows?: number } & WorkbookOptions = {}): AsyncGenerator<Uint8Array, void, undefined> {
  const { rows = 200 } = options;
  if (!Number.isInteger(rows) || rows < 1 || rows > MOST_BLANK_ROWS) {
    throw new TreadlebookError({ code: 'usage', where: 'blank workbook', what: `${rows} is no number of rows for it`, mend: `give a whole number from 1 to ${MOST_BLANK_ROWS}: its summaries are live formulas, which more rows would make too slow` });
  }
  const plan = planOf(options.limits, { optionalColumns: new Set() });
  return buildWorkbook({ plan, fleet: null, fileColumns: [], overflow: 0, blankRows: rows, withoutResults: options.withoutResults });
}
