import type { CellFormulaValue, Worksheet } from 'exceljs';
import type { ChartPart } from '../../formats/xlsx-package/assemble-xlsx.js';
import { FAIL_RATE_GROUPS } from '../../fleet/group-fail-rate.js';
import type { FleetSummary } from '../../fleet/summary.js';
import { LEAST_TESTED } from '../../fleet/group-flag.js';
import { columnLetters } from '../../util/column-letters.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import { distinctFormula } from '../distinct-formula.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeTitle } from '../write-table.js';
import { paretoChart, rateChart } from './fail-rates-charts.js';
import { bandHeading } from './fail-rates-heading.js';
import { pageStarts, type PrintedBlock } from './fail-rates-pages.js';
import { writePareto, type ParetoItem } from './fail-rates-pareto.js';
import { APART_FROM, CHARTS_ABOVE, FAIL_RATES_SHEET, isCharted, MORE_THAN_ROWS, PARETO_APART, PARETO_COLUMNS, PARETO_ROWS, PARETO_WORKING, PLACE_ROWS, RATE_COLUMNS, REASON_ROWS, REASONS_TITLE_ROW, WORDS_LINES, WORDS_ROW } from './fail-rates-places.js';
import { countedReasons, failedOf, placeFormula } from './fail-rates-reasons.js';
import { writeRates } from './fail-rates-tables.js';
import { failRateWords, type FailRateSentence } from './fail-rates-words.js';

export { FAIL_RATES_SHEET } from './fail-rates-places.js';

const ACROSS = RATE_COLUMNS.length;
/** The height in points of a row that is given none. */
const DEFAULT_ROW = 15;
/** Characters that a line of an answer holds. */
const ANSWER_WIDTH = 105;

/** Lays out the sheet Fail rates: what stands out, in words and charts; the reasons and places, the most frequent first; and a table of rates for each way of grouping. */
export function failRatesSheet(context: SheetContext): SheetParts {
  const { book } = context;
  const sheet = book.addWorksheet(FAIL_RATES_SHEET, { views: [{ state: 'frozen', ySplit: 2 }] });
  RATE_COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  sheet.getColumn(ACROSS + 1).width = 3;
  PARETO_WORKING.forEach(({ width }, index) => (sheet.getColumn(APART_FROM + index + 1).width = width));
  writeTitle(sheet, 'Fail rates', explanation(context), ACROSS);
  sheet.getRow(2).height = 54;
  writeWords(sheet, context);
  bandHeading(sheet, CHARTS_ABOVE, 'Where it fails, in pictures', 0, ACROSS);
  const placesTitleRow = writeReasons(sheet, context);
  let row = Math.max(writePlaces(sheet, context, placesTitleRow), REASONS_TITLE_ROW + PARETO_ROWS);
  const charts: ChartPart[] = [];
  const blocks: PrintedBlock[] = [{ row: REASONS_TITLE_ROW - 1, height: heightOf(sheet, REASONS_TITLE_ROW - 1, row + 1) }];
  for (const group of FAIL_RATE_GROUPS) {
    row += 2;
    const { firstRow, rowCount } = writeRates(sheet, group, row, context);
    blocks.push({ row, height: heightOf(sheet, row, firstRow + rowCount) });
    row = firstRow + rowCount - 1;
    const rates = context.fleet?.summary.fail_rates.filter((rate) => rate.group === group) ?? [];
    if (isCharted(group)) charts.push(rateChart(group, rates, firstRow, rowCount));
  }
  charts.push(paretoChart(context.fleet?.summary.fleet.reasons ?? []));
  for (const start of [REASONS_TITLE_ROW - 1, ...pageStarts(blocks)]) sheet.getRow(start - 1).addPageBreak();
  setUpPrint(sheet, { titleRows: '1:1' });
  sheet.pageSetup.printArea = `A$1:${columnLetters(ACROSS - 1)}$${row}`;
  return { charts };
}

function explanation({ fleet, live }: SheetContext): string {
  const towards = fleet ? 'what it is drawn towards was computed on writing. The worst by that estimate, else by the rate, stands first' : 'it comes when the filled workbook is evaluated';
  return (
    'Tested counts passes and fails; what could not be decided is counted under Recheck. The interval (Wilson, 95 %) says how far so few tests can be trusted. The estimate draws each rate towards those of its table, ' +
    `the more the fewer were tested (empirical Bayes, beta-binomial); ${towards}. Beside the others: the exact binomial chance of so many failures, or so few, at the rate of all is below 2.5 %, or for "far" below 0.1 %; ` +
    `fewer than ${LEAST_TESTED} tested are too few to judge. ${live ? 'Live formulas over Readings.' : 'Values as of writing.'}`
  );
}

/** The height in points of the rows from one on up to another, which is not counted. */
function heightOf(sheet: Worksheet, from: number, to: number): number {
  return Array.from({ length: Math.max(0, to - from) }, (_, index) => sheet.getRow(from + index).height ?? DEFAULT_ROW).reduce((sum, height) => sum + height, 0);
}

function writeWords(sheet: Worksheet, { fleet }: SheetContext): void {
  const sentences: readonly FailRateSentence[] = fleet ? failRateWords(fleet.summary) : [{ question: 'Not computed here', answer: 'evaluate the filled workbook, and this sheet says here what stands out' }];
  bandHeading(sheet, WORDS_ROW, `What stands out?${fleet ? ` (computed on writing${spanOf(fleet.summary)})` : ''}`, 0, ACROSS);
  for (let index = 0; index < WORDS_LINES; index++) {
    const row = WORDS_ROW + 1 + index;
    sheet.mergeCells(`B${row}:${columnLetters(ACROSS - 1)}${row}`);
    const [question, answer] = [sheet.getCell(`A${row}`), sheet.getCell(`B${row}`)];
    question.value = sentences[index]?.question ?? null;
    answer.value = sentences[index]?.answer ?? null;
    styleCell(question, { bold: true, top: true });
    styleCell(answer, { wrap: true, top: true });
    sheet.getRow(row).height = 3 + 13 * Math.max(1, Math.ceil((sentences[index]?.answer.length ?? 0) / ANSWER_WIDTH));
  }
}

function spanOf({ period: { from }, counted_to: to }: FleetSummary): string {
  const span = [...(from === null ? [] : [`from ${from}`]), ...(to === null ? [] : [`up to ${to}`])];
  return span.length === 0 ? '' : `, for inspections ${span.join(' ')}`;
}

/** Writes the table of reasons, and gives the row of the titles of the next. */
function writeReasons(sheet: Worksheet, { plan, fleet, live }: SheetContext): number {
  const reasons = fleet?.summary.fleet.reasons ?? [];
  const items = countedReasons(plan).map(({ name, formula }): ParetoItem => ({ name, failed: failedOf(reasons, name), formula }));
  const rowCount = Math.max(1, reasons.length, live ? Math.min(REASON_ROWS, items.length) : 0);
  bandHeading(sheet, REASONS_TITLE_ROW - 1, 'Why checks failed, the most frequent first', 0, PARETO_COLUMNS.length);
  if (live) bandHeading(sheet, REASONS_TITLE_ROW - 1, 'Sorted from', APART_FROM, PARETO_WORKING.length);
  writePareto(sheet, { titleRow: REASONS_TITLE_ROW, title: 'Why it failed', reasons, items: live ? items : null, rowCount });
  return REASONS_TITLE_ROW + rowCount + 3;
}

/** Writes the table of places, and gives its last row. */
function writePlaces(sheet: Worksheet, { fleet, live }: SheetContext, titleRow: number): number {
  const places = fleet?.summary.fleet.leak_places ?? [];
  const cellOf = (index: number): string => `$${PARETO_APART.name}${titleRow + 1 + index}`;
  const known = [...places].sort((a, b) => (a.reason < b.reason ? -1 : 1)).map(({ reason, failed }, index): ParetoItem => ({ name: reason, failed, formula: placeFormula(cellOf(index)) }));
  const typed = Array.from({ length: PLACE_ROWS }, (_, index): ParetoItem => {
    const formula = distinctFormula('readings_leak_place', `$${PARETO_APART.name}$${titleRow}:${cellOf(index - 1)}`);
    return { name: { formula, shareType: 'array', ref: cellOf(index).replace('$', ''), result: '' } as unknown as CellFormulaValue, failed: 0, formula: placeFormula(cellOf(index)) };
  });
  const items = fleet ? known : typed;
  const rowCount = Math.max(fleet ? 1 : PLACE_ROWS, items.length);
  bandHeading(sheet, titleRow - 1, 'Where failed inspections were heard leaking, the most frequent first', 0, PARETO_COLUMNS.length);
  const sorted = live && items.length > 0;
  if (sorted) bandHeading(sheet, titleRow - 1, 'Sorted from', APART_FROM, PARETO_WORKING.length);
  writePareto(sheet, { titleRow, title: 'Place heard leaking', reasons: places.filter(({ failed }) => failed > 0), items: sorted ? items : null, rowCount });
  if (!fleet) {
    const more = sheet.getCell(`A${titleRow + rowCount + 1}`);
    const counts = `$${PARETO_APART.failed}$${titleRow + 1}:$${PARETO_APART.failed}$${titleRow + rowCount}`;
    more.value = { formula: `IF(SUM(${counts})<SUMPRODUCT((readings_leak_place<>"")*(computed_verdict="fail")),"${MORE_THAN_ROWS}","")`, result: '' };
    styleCell(more, { ink: PALETTE.caution.ink, bold: true });
  }
  if (fleet && places.length === 0) sheet.getCell(`A${titleRow + 1}`).value = 'none noted';
  return titleRow + rowCount;
}
