import type { CellFormulaValue, Worksheet } from 'exceljs';
import type { ChartPart } from '../../formats/xlsx-package/assemble-xlsx.js';
import { FAIL_RATE_GROUPS } from '../../fleet/group-fail-rate.js';
import { columnLetters } from '../../util/column-letters.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import { distinctFormula } from '../distinct-formula.js';
import { PALETTE } from '../palette.js';
import { safeText } from '../safe-text.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeTitle } from '../write-table.js';
import { paretoChart, rateChart } from './fail-rates-charts.js';
import { writePareto, type ParetoItem } from './fail-rates-pareto.js';
import { APART_FROM, CHART_ROWS, CHARTS_ABOVE, FAIL_RATES_SHEET, PARETO_APART, PARETO_COLUMNS, PARETO_WORKING, PLACE_ROWS, RATE_COLUMNS, REASON_ROWS, REASONS_TITLE_ROW, WORDS_LINES, WORDS_ROW } from './fail-rates-places.js';
import { countedReasons, failedOf, placeFormula } from './fail-rates-reasons.js';
import { writeRates } from './fail-rates-tables.js';
import { failRateWords, type FailRateSentence } from './fail-rates-words.js';

export { FAIL_RATES_SHEET } from './fail-rates-places.js';

const ACROSS = RATE_COLUMNS.length;

/** Lays out the sheet Fail rates: what stands out, in words and charts; the reasons and places, the most frequent first; and a table of rates for each way of grouping. */
export function failRatesSheet(context: SheetContext): SheetParts {
  const { book, live } = context;
  const sheet = book.addWorksheet(FAIL_RATES_SHEET, { views: [{ state: 'frozen', ySplit: 2 }] });
  RATE_COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  sheet.getColumn(ACROSS + 1).width = 3;
  PARETO_WORKING.forEach(({ width }, index) => (sheet.getColumn(APART_FROM + index + 1).width = width));
  writeTitle(sheet, 'Fail rates', explanation(live), ACROSS);
  sheet.getRow(2).height = 54;
  writeWords(sheet, context);
  heading(sheet, CHARTS_ABOVE, 'Where it fails, in pictures', 0, ACROSS);
  const placesTitleRow = writeReasons(sheet, context);
  let row = writePlaces(sheet, context, placesTitleRow);
  const charts: ChartPart[] = [];
  for (const group of FAIL_RATE_GROUPS) {
    row += 2;
    const { firstRow, rowCount } = writeRates(sheet, group, row, context);
    row = firstRow + rowCount - 1;
    const rates = context.fleet?.summary.fail_rates.filter((rate) => rate.group === group) ?? [];
    if (group === 'check' || group === 'site') charts.push(rateChart(group, rates, firstRow, rowCount));
  }
  charts.push(paretoChart(context.fleet?.summary.fleet.reasons ?? []));
  sheet.getRow(CHARTS_ABOVE + CHART_ROWS + 1).addPageBreak();
  setUpPrint(sheet, { titleRows: '1:1' });
  sheet.pageSetup.printArea = `A$1:${columnLetters(ACROSS - 1)}$${row}`;
  return { charts };
}

function explanation(live: boolean): string {
  return (
    'Tested counts passes and fails; what could not be decided is counted under Recheck. The interval (Wilson, 95 %) says how far so few tests can be trusted. The estimate draws each rate towards those of its table, ' +
    'the more the fewer were tested (empirical Bayes, beta-binomial); what it is drawn towards was computed on writing. Beside the others: the exact binomial chance of so many failures at the rate of all, below 2.5 % or 0.1 %; ' +
    `fewer than 5 tested are too few to judge. ${live ? 'Live formulas over Readings.' : 'Values as of writing.'}`
  );
}

function heading(sheet: Worksheet, row: number, words: string, from: number, across: number): void {
  for (let index = 0; index < across; index++) styleCell(sheet.getCell(row, from + index + 1), { ...PALETTE.band, bold: true });
  sheet.getCell(row, from + 1).value = words;
}

function writeWords(sheet: Worksheet, { fleet }: SheetContext): void {
  const sentences: readonly FailRateSentence[] = fleet ? failRateWords(fleet.summary) : [{ question: 'Not computed here', answer: 'evaluate the filled workbook, and this sheet says here what stands out' }];
  heading(sheet, WORDS_ROW, `What stands out?${fleet ? ' (computed on writing)' : ''}`, 0, ACROSS);
  for (let index = 0; index < WORDS_LINES; index++) {
    const row = WORDS_ROW + 1 + index;
    sheet.mergeCells(`B${row}:${columnLetters(ACROSS - 1)}${row}`);
    const [question, answer] = [sheet.getCell(`A${row}`), sheet.getCell(`B${row}`)];
    question.value = sentences[index]?.question ?? null;
    answer.value = sentences[index]?.answer ?? null;
    styleCell(question, { bold: true, top: true });
    styleCell(answer, { wrap: true, top: true });
    sheet.getRow(row).height = 3 + 13 * Math.max(1, Math.ceil((sentences[index]?.answer.length ?? 0) / 105));
  }
}

/** Writes the table of reasons, and gives the row of the titles of the next. */
function writeReasons(sheet: Worksheet, { plan, fleet, live }: SheetContext): number {
  const reasons = fleet?.summary.fleet.reasons ?? [];
  const items = countedReasons(plan).map(({ name, formula }): ParetoItem => ({ name: safeText(name), failed: failedOf(reasons, name), formula }));
  const rowCount = Math.max(REASON_ROWS, items.length, reasons.length);
  heading(sheet, REASONS_TITLE_ROW - 1, 'Why checks failed, the most frequent first', 0, PARETO_COLUMNS.length);
  if (live) heading(sheet, REASONS_TITLE_ROW - 1, 'Sorted from', APART_FROM, PARETO_WORKING.length);
  writePareto(sheet, { titleRow: REASONS_TITLE_ROW, title: 'Why it failed', reasons, items: live ? items : null, rowCount }, safeText);
  return REASONS_TITLE_ROW + rowCount + 3;
}

/** Writes the table of places, and gives its last row. */
function writePlaces(sheet: Worksheet, { fleet, live }: SheetContext, titleRow: number): number {
  const places = fleet?.summary.fleet.leak_places ?? [];
  const cellOf = (index: number): string => `$${PARETO_APART.name}${titleRow + 1 + index}`;
  const known = [...places].sort((a, b) => (a.reason < b.reason ? -1 : 1)).map(({ reason, failed }, index): ParetoItem => ({ name: safeText(reason), failed, formula: placeFormula(cellOf(index)) }));
  const typed = Array.from({ length: PLACE_ROWS }, (_, index): ParetoItem => {
    const formula = distinctFormula('readings_leak_place', `$${PARETO_APART.name}$${titleRow}:${cellOf(index - 1)}`);
    return { name: { formula, shareType: 'array', ref: cellOf(index).replace('$', ''), result: '' } as unknown as CellFormulaValue, failed: 0, formula: placeFormula(cellOf(index)) };
  });
  const items = fleet ? known : typed;
  const rowCount = Math.max(fleet ? 1 : PLACE_ROWS, items.length);
  heading(sheet, titleRow - 1, 'Where failed inspections were heard leaking, the most frequent first', 0, PARETO_COLUMNS.length);
  const sorted = live && items.length > 0;
  if (sorted) heading(sheet, titleRow - 1, 'Sorted from', APART_FROM, PARETO_WORKING.length);
  writePareto(sheet, { titleRow, title: 'Place heard leaking', reasons: places, items: sorted ? items : null, rowCount }, safeText);
  if (fleet && places.length === 0) sheet.getCell(`A${titleRow + 1}`).value = 'none noted';
  return titleRow + rowCount;
}
