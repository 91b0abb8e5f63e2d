import type { CellFormulaValue, CellValue, Worksheet } from 'exceljs';
import type { FleetSummary } from '../../fleet/summary.js';
import { columnLetters } from '../../util/column-letters.js';
import { alignCell, setUpPrint, styleCell } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeHeader, writeRow, writeTitle } from '../write-table.js';
import { trendCharts } from './trend-charts.js';
import { CHART_DATA, TREND_COLUMNS, trendColumns, type TrendColumn, type TrendColumnId } from './trend-columns.js';
import { trendSentence, type TrendSentence } from './trend-words.js';

/** The sheet's name. */
export const TREND_SHEET = 'Trend';

/** Rows for months in a blank workbook. */
export const BLANK_MONTHS = 24;
/** What a blank workbook says below its months when there are later inspections. */
export const LATER_INSPECTIONS = `There are later inspections than these ${BLANK_MONTHS} months hold: evaluate the workbook to see them all.`;
const WORDS_ROW = 4;
const CHARTS_ABOVE = WORDS_ROW + 5;
const CHART_ROWS = 20;
const HEADER_ROW = CHARTS_ABOVE + CHART_ROWS + 2;
/** The row of the column titles of the sheet Trend. */
export const TREND_TITLE_ROW = HEADER_ROW;
const FIRST_ROW = HEADER_ROW + 1;
/** Which way a figure goes stands out by its fill too. */
const DIRECTION_LOOKS: Readonly<Record<string, { readonly fill: string; readonly ink: string }>> = { 'getting worse': PALETTE.fail, 'getting better': PALETTE.pass };
const DATA_FROM = TREND_COLUMNS.length + 1;
const ALL = [...TREND_COLUMNS, ...CHART_DATA];

const lettersOf = (id: TrendColumnId): string => {
  const index = ALL.findIndex((column) => column.id === id);
  return columnLetters(index < TREND_COLUMNS.length ? index : index + 1);
};

/** Lays out the sheet Trend: whether the fleet gets better, in words and charts, then a row for each week, month or quarter. */
export function trendSheet(context: SheetContext): SheetParts {
  const { book, fleet, live, plan } = context;
  const { table, chartData } = trendColumns(plan);
  const summary = fleet?.summary ?? null;
  const by = summary?.period.by ?? 'month';
  const periods = summary?.trend ?? [];
  const count = summary ? Math.max(1, periods.length) : BLANK_MONTHS;
  const sheet = book.addWorksheet(TREND_SHEET, { views: [{ state: 'frozen', ySplit: 2 }] });
  TREND_COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  CHART_DATA.forEach(({ width }, index) => (sheet.getColumn(DATA_FROM + index + 1).width = width));
  writeTitle(sheet, 'Trend', explanation(by, live), TREND_COLUMNS.length);
  sheet.getRow(2).height = 34;
  writeWords(sheet, summary);
  heading(sheet, HEADER_ROW - 1, 0, TREND_COLUMNS.length, `By ${by}`);
  heading(sheet, HEADER_ROW - 1, DATA_FROM, CHART_DATA.length, 'Chart data: how far the whiskers reach');
  writeHeader(sheet, HEADER_ROW, table);
  writeHeader(sheet, HEADER_ROW, chartData, DATA_FROM);
  sheet.getRow(HEADER_ROW).height = 54;
  for (let index = 0; index < count; index++) {
    const period = periods[index] ?? null;
    const row = FIRST_ROW + index;
    const cell = (column: TrendColumn): CellValue => cellOf(column, row, context, period ? column.value(period) : null, period === null);
    writeRow(sheet, row, table, table.map(cell));
    writeRow(sheet, row, chartData, chartData.map(cell), DATA_FROM);
  }
  const lastRow = FIRST_ROW + count - 1;
  if (summary && periods.length === 0) sheet.getCell(FIRST_ROW, 1).value = summary.counted_to === null || (summary.period.from === null && summary.period.to === null) ? 'no dates' : 'none in it';
  if (!summary) beyondLastMonth(sheet, lastRow);
  setUpPrint(sheet, { titleRows: `${HEADER_ROW}:${HEADER_ROW}` });
  sheet.pageSetup.printArea = `A$1:${columnLetters(TREND_COLUMNS.length - 1)}$${summary ? lastRow : lastRow + 1}`;
  return { charts: trendCharts({ sheet: TREND_SHEET, firstRow: FIRST_ROW, lastRow, lettersOf, by, shownIn: plan, above: CHARTS_ABOVE - 1, height: CHART_ROWS }, periods) };
}

function explanation(by: string, live: boolean): string {
  return (
    `By ${by}, from the first date to the last; an inspection without a date stands in none. Tested counts passes and fails; the interval is Wilson's, 95 %. ` +
    'Median and 90th percentile are by linear interpolation (type 7 of Hyndman and Fan 1996, the spreadsheet\'s PERCENTILE), over every inspection with that loss or time. ' +
    `${live ? 'Live formulas over Readings.' : 'Values as of writing.'}`
  );
}

function heading(sheet: Worksheet, row: number, from: number, across: number, words: string): void {
  for (let column = from; column < from + across; column++) styleCell(sheet.getCell(row, column + 1), { ...PALETTE.band, bold: true });
  sheet.getCell(row, from + 1).value = words;
}

function writeWords(sheet: Worksheet, summary: FleetSummary | null): void {
  const { sentences, when } = wordsOf(summary);
  heading(sheet, WORDS_ROW - 1, 0, TREND_COLUMNS.length, `Does the fleet get better or worse? ${when}`);
  for (const [index, { figure, direction, sentence }] of sentences.entries()) {
    const row = WORDS_ROW + index;
    const cells = [
      { from: 'A', to: 'B', value: figure, look: { bold: true } },
      { from: 'C', to: 'D', value: direction, look: { ...DIRECTION_LOOKS[direction], bold: true, centre: true, line: true } },
      { from: 'E', to: columnLetters(TREND_COLUMNS.length - 1), value: sentence, look: {} },
    ];
    for (const { from, to, value, look } of cells) {
      sheet.mergeCells(`${from}${row}:${to}${row}`);
      sheet.getCell(`${from}${row}`).value = value;
      const cell = sheet.getCell(`${from}${row}`);
      styleCell(cell, look);
      if (from === 'E') alignCell(cell, { vertical: 'middle', horizontal: 'left', indent: 1 });
    }
    sheet.getRow(row).height = 16;
  }
}

function wordsOf(summary: FleetSummary | null): { readonly sentences: readonly TrendSentence[]; readonly when: string } {
  if (!summary) return { sentences: [{ figure: 'Every figure', direction: 'not computed here', sentence: 'evaluate the filled workbook with the program, and these lines say so in words, with the test' }], when: '' };
  const { period, counted_to } = summary;
  const span = [...(period.from === null ? [] : [`from ${period.from}`]), ...(counted_to === null ? [] : [`up to ${counted_to}`])].join(' ');
  return { sentences: summary.fleet.trends.map((trend) => trendSentence(trend, period.by)), when: `(computed on writing${span === '' ? '' : `, for inspections ${span}`})` };
}

/** Says so where dates lie beyond the rows of a blank workbook. */
function beyondLastMonth(sheet: Worksheet, lastRow: number): void {
  const [row, to] = [lastRow + 1, `$${lettersOf('to')}$${lastRow}`];
  sheet.mergeCells(`A${row}:${columnLetters(TREND_COLUMNS.length - 1)}${row}`);
  const cell = sheet.getCell(row, 1);
  cell.value = { formula: `IF(${to}="","",IF(MAX(readings_inspected_on)<${to}+1,"","${LATER_INSPECTIONS}"))`, result: '' };
  styleCell(cell, { ink: PALETTE.caution.ink, bold: true });
}

function cellOf({ id, formula, array }: TrendColumn, row: number, { fleet, live }: SheetContext, result: CellValue, empty: boolean): CellValue {
  const at = (one: TrendColumnId): string => `$${lettersOf(one)}${row}`;
  const text = fleet ? (formula?.(at) ?? null) : blankFormula(id, row, at, formula);
  if (!live || text === null || (fleet !== null && empty)) return result;
  if (array) return { formula: text, shareType: 'array', ref: at(id).replace('$', ''), result: result ?? '' } as unknown as CellFormulaValue;
  return { formula: text, result: result ?? '' } as CellFormulaValue;
}

/** The formula in a blank workbook: months from that of the earliest date on, empty beyond the latest. */
function blankFormula(id: TrendColumnId, row: number, at: (id: TrendColumnId) => string, formula: TrendColumn['formula']): string {
  const from = at('from');
  const unlessEmpty = (text: string): string => `IF(${from}="","",${text})`;
  if (id === 'period') return unlessEmpty(`YEAR(${from})&"-"&RIGHT("0"&MONTH(${from}),2)`);
  if (id === 'to') return unlessEmpty(`EDATE(${from},1)-1`);
  if (id !== 'from') return unlessEmpty(formula!(at));
  const earliest = 'MIN(readings_inspected_on)';
  if (row === FIRST_ROW) return `IF(COUNT(readings_inspected_on)=0,"",DATE(YEAR(${earliest}),MONTH(${earliest}),1))`;
  const above = `$${lettersOf('from')}${row - 1}`;
  return `IF(${above}="","",IF(EDATE(${above},1)>MAX(readings_inspected_on),"",EDATE(${above},1)))`;
}
