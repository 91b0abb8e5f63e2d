import type { ChartPart } from '../../formats/xlsx-package/assemble-xlsx.js';
import { chartXml } from '../../formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import type { Reason } from '../../fleet/fleet-figures.js';
import type { GroupFailRate } from '../../fleet/group-fail-rate.js';
import { CHART_COLOURS } from '../palette.js';
import { CHART_ROWS, CHARTS_ABOVE, FAIL_RATES_SHEET, RATE_COLUMNS, PARETO_ROWS, rateLetters, REASONS_TITLE_ROW, type ChartedGroup, type RateColumnId } from './fail-rates-places.js';

/** The bars that a chart of rates shows at most; more could not be told apart. */
const MOST_BARS = 12;
/** The bars of the Pareto chart. */
const MOST_REASONS = 8;

/** The chart of a table of rates: lying bars with the interval as a whisker. */
export function rateChart(group: ChartedGroup, rates: readonly GroupFailRate[], firstRow: number, rowCount: number): ChartPart {
  const shown = Math.min(MOST_BARS, rowCount);
  const range = (id: RateColumnId): string => sheetReference(FAIL_RATES_SHEET, `$${rateLetters(id)}$${firstRow}:$${rateLetters(id)}$${firstRow + shown - 1}`);
  const cached = <T>(value: (rate: GroupFailRate) => T): (T | null)[] => Array.from({ length: shown }, (_, index) => (rates[index] ? value(rates[index]) : null));
  const highest = Math.max(0, ...rates.slice(0, shown).map(({ high }) => high ?? 0));
  const more = rowCount > shown ? ` (the first ${shown} of ${rowCount})` : '';
  const title = `Fail rate by ${group}, with 95 % interval${more}`;
  return {
    sheet: FAIL_RATES_SHEET,
    name: title,
    description: `Bars: ${title.charAt(0).toLowerCase()}${title.slice(1)}`,
    anchor: { fromColumn: group === 'check' ? 0 : 4, fromRow: CHARTS_ABOVE, toColumn: group === 'check' ? 4 : RATE_COLUMNS.length, toRow: CHARTS_ABOVE + CHART_ROWS },
    xml: chartXml({
      kind: 'bar',
      horizontal: true,
      title,
      categoryAxisTitle: group === 'check' ? 'Check' : 'Site',
      valueAxisTitle: 'Fail rate',
      valueFormat: '0 %',
      valueMinimum: 0,
      valueMaximum: highest === 0 ? 1 : Math.min(1, Math.ceil(highest * 10 + 0.5) / 10),
      series: [
        {
          title: 'Fail rate',
          categoriesRef: range('name'),
          valuesRef: range('rate'),
          cachedCategories: cached(({ name }) => name).map((name) => name ?? ''),
          cachedValues: cached(({ rate }) => rate),
          colour: CHART_COLOURS.mark,
          errorBars: { plusRef: range('up'), minusRef: range('down'), cachedPlus: cached(({ high, rate }) => (high === null || rate === null ? null : high - rate)), cachedMinus: cached(({ low, rate }) => (low === null || rate === null ? null : rate - low)) },
        },
      ],
    }),
  };
}

/** The Pareto chart of the reasons: standing bars, the greatest first, and over them the share of all down to each. */
export function paretoChart(reasons: readonly Reason[]): ChartPart {
  const [firstRow, lastRow] = [REASONS_TITLE_ROW + 1, REASONS_TITLE_ROW + MOST_REASONS];
  const range = (letters: string): string => sheetReference(FAIL_RATES_SHEET, `$${letters}$${firstRow}:$${letters}$${lastRow}`);
  const cached = (value: (reason: Reason) => number): (number | null)[] => Array.from({ length: MOST_REASONS }, (_, index) => (reasons[index] ? value(reasons[index]) : null));
  const categories = { categoriesRef: range('A'), cachedCategories: Array.from({ length: MOST_REASONS }, (_, index) => reasons[index]?.reason ?? '') };
  const title = 'Why checks failed: share of all failures';
  return {
    sheet: FAIL_RATES_SHEET,
    name: title,
    description: 'Bars: the share of all failures that each reason has, the greatest first; the line adds them up',
    anchor: { fromColumn: 4, fromRow: REASONS_TITLE_ROW - 1, toColumn: RATE_COLUMNS.length, toRow: REASONS_TITLE_ROW + PARETO_ROWS },
    xml: chartXml({
      kind: 'bar',
      title,
      categoryAxisTitle: 'Reason',
      valueAxisTitle: 'Share of all failures',
      valueFormat: '0 %',
      valueMinimum: 0,
      valueMaximum: 1,
      series: [
        { title: 'Share of all', ...categories, valuesRef: range('C'), cachedValues: cached(({ share }) => share), colour: CHART_COLOURS.bars },
        { title: 'Share down to here', ...categories, valuesRef: range('D'), cachedValues: cached(({ running_share: running }) => running), colour: CHART_COLOURS.mark, kind: 'line' },
      ],
    }),
  };
}
