import type { Evaluation } from '../fleet/evaluation.js';
import { placeOfRow } from '../util/continued-sheets.js';
import { WHERE_TO_LOOK } from '../limits/where-to-look-tree.js';
import { cautionRows, withoutCautions } from './caution-rows.js';
import type { EvaluatedFleet } from './evaluate-readings.js';
import { PAPER_COLUMNS, type PaperRow } from './paper-page.js';
import { programVersion } from './program-version.js';
import { headingRow, itemRows, reportText, rowOf, wholeRow } from './report-boxes.js';
import { checkTable } from './report-checks.js';
import { measureItems, ownColumnItems, readingItems } from './report-items.js';

/** What one page of a report is made from. */
export interface ReportPage {
  readonly fleet: Pick<EvaluatedFleet, 'plan' | 'source' | 'columns' | 'problems'>;
  readonly evaluation: Evaluation;
  /** The inspections of the unit before it, the latest first. */
  readonly earlier: readonly Evaluation[];
  /** What is to be said of limits that were changed in the workbook; null where none was. */
  readonly changedLimits: string | null;
}

const SMALL = { size: 7 } as const;
const NOTE = { size: 6.5 } as const;

/** The rows of a report of one inspection, for a page so many points wide. */
export function reportRows({ fleet, evaluation, earlier, changedLimits }: ReportPage, pageWidth: number): PaperRow[] {
  const { plan, source, columns, problems } = fleet;
  const { inspection } = evaluation;
  const places = evaluation.computed[plan.columns.findIndex(({ id }) => id === WHERE_TO_LOOK)];
  const place = placeOfRow(source.sheet, evaluation.row);
  const ofRow = problems.filter(({ sheet, row }) => row === place.row && (sheet === place.sheet || place.sheet === source.sheet));
  const own = ownColumnItems(columns, inspection);
  return [
    { height: 22, cells: [{ at: 0, span: PAPER_COLUMNS, value: reportText(`Inspection report: ${evaluation.unit ?? ''}, ${evaluation.inspected_on ?? ''}`), look: { size: 14, bold: true, vertical: 'middle', wrap: false } }] },
    rowOf([{ at: 0, span: 8, value: evaluation.verdict.toUpperCase(), look: { size: 15, bold: true, border: 'heavy', horizontal: 'center', vertical: 'middle' } }, { at: 8, span: PAPER_COLUMNS - 8, value: reportText(evaluation.reason), look: { border: 'heavy' } }], pageWidth, 30),
    ...(typeof places === 'string' ? [wholeRow(`Where to look first (common practice, no source; the licensed inspector decides): ${places}`, SMALL, pageWidth)] : []),
    ...cautionRows(pageWidth),
    headingRow('Which vehicle, when, who'),
    ...itemRows(readingItems(plan, inspection, 'heading'), pageWidth),
    headingRow('Readings as typed'),
    ...itemRows(readingItems(plan, inspection, 'readings'), pageWidth),
    ...(own.length > 0 ? [headingRow('Columns of the table that the program does not know'), ...itemRows(own, pageWidth)] : []),
    ...ofRow.map(({ code, column, found, expected }) => wholeRow(`Problem (${code}) ${column}: ${found}; ${expected}`, NOTE, pageWidth)),
    headingRow(`Checks against: ${plan.set.title}`),
    wholeRow(`${plan.set.authority} (${plan.set.id}). ${withoutCautions(plan.set.notice)}`, NOTE, pageWidth),
    ...(changedLimits === null ? [] : [wholeRow(changedLimits, { ...SMALL, bold: true }, pageWidth)]),
    ...checkTable(plan, evaluation.checks, pageWidth),
    headingRow('Measures'),
    ...itemRows(measureItems(plan, evaluation), pageWidth),
    headingRow('Inspections of this unit before it'),
    ...(earlier.length === 0 ? [wholeRow('None in this table.', SMALL, pageWidth)] : earlier.map((one) => wholeRow(earlierLine(one), { ...SMALL, wrap: true }, pageWidth))),
    headingRow('Source'),
    wholeRow(`${source.name}${place.sheet === '' ? '' : `, sheet ${place.sheet}`}, row ${place.row}. SHA-256 of its bytes: ${source.sha256}`, NOTE, pageWidth),
    wholeRow(`Limit set ${plan.set.id}, SHA-256 of its canonical JSON: ${plan.sha256}. Treadlebook ${programVersion()}. Chance within limit: JCGM 106, from how finely the gauge can be read.`, NOTE, pageWidth),
    { height: 28, cells: [{ at: 0, span: 22, value: 'Signature', look: { ...NOTE, vertical: 'bottom', border: 'under' } }, { at: 24, span: 12, value: 'Date', look: { ...NOTE, vertical: 'bottom', border: 'under' } }] },
  ];
}

const LONGEST_EARLIER = 230;

function earlierLine({ inspected_on, inspection_id, verdict, reason }: Evaluation): string {
  const line = `${inspected_on}${inspection_id === null ? '' : `, ${inspection_id}`}: ${verdict}. ${reason}`;
  return line.length > LONGEST_EARLIER ? `${line.slice(0, line.lastIndexOf(' ', LONGEST_EARLIER))} …` : line;
}
