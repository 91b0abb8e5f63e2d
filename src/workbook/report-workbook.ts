import { assembleXlsx } from '../formats/xlsx-package/assemble-xlsx.js';
import type { Evaluation } from '../fleet/evaluation.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import { cellName } from './defined-names.js';
import type { EvaluatedFleet } from './evaluate-readings.js';
import { earlierInspections, findInspections, type InspectionWanted } from './find-inspections.js';
import { newBook } from './new-book.js';
import { fitPaper, writePaper } from './paper-page.js';
import { reportRows } from './report-rows.js';
import { reportSheetName } from './report-sheet-name.js';
import { templateOf } from './template-of.js';

/** Which inspections to report, and against which numbers. */
export interface ReportOptions extends InspectionWanted {
  /** Numbers that take the place of those of the limit set, as a workbook's own sheet Limits has them; the report says so. */
  readonly numbers?: ReadonlyMap<string, number | null>;
}

/** How many inspections of the unit before it are told. */
const MOST_EARLIER = 3;

/**
 * Streams a workbook with one printable page for each inspection of a unit on a day: readings as typed, measures, limits with their
 * source, verdicts with the reason in words, the inspections before it, and the SHA-256 of the source. The same fleet gives the same
 * bytes.
 *
 * @throws TreadlebookError `input_unreadable` when there is no such inspection, with the nearest unit or date
 * @example await writeFileAtomically('report.xlsx', reportWorkbook(fleet, { unit: 'K-101', date: '2026-03-14' }), false);
 */
export async function* reportWorkbook(fleet: EvaluatedFleet, { unit, date, numbers = new Map() }: ReportOptions): AsyncGenerator<Uint8Array, void, undefined> {
  const found = findInspections(fleet.evaluations, { unit, date }, fleet.source.name);
  const evaluator = numbers.size === 0 ? null : new RowEvaluator(fleet.plan, { numbers });
  const judged = (one: Evaluation): Evaluation => evaluator?.evaluate(one.inspection) ?? one;
  const changedLimits = numbers.size === 0 ? null : changedWords(fleet, numbers);
  const book = newBook();
  const taken = new Set<string>();
  for (const one of found) {
    const page = { fleet, evaluation: judged(one), earlier: earlierInspections(fleet.evaluations, one, MOST_EARLIER).map(judged), changedLimits };
    const sheet = book.addWorksheet(reportSheetName(one.unit!, date, taken), { views: [{ showGridLines: false }] });
    writePaper(sheet, fitPaper((pageWidth) => reportRows(page, pageWidth)));
  }
  yield* assembleXlsx({ template: await templateOf(book), fills: [] });
}

function changedWords({ plan }: EvaluatedFleet, numbers: ReadonlyMap<string, number | null>): string {
  const written = new Map(plan.cells.map(({ name, value }) => [name, value]));
  const each = [...numbers].map(([name, value]) => `${cellName(name)} is ${value ?? 'no number'}${written.has(name) ? `, in the limit set ${written.get(name)}` : ''}`);
  return `Numbers on the sheet Limits of this workbook are not those of the limit set, and were used as they stand there: ${each.join('; ')}.`;
}
