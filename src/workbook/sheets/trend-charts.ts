import type { PeriodLength, PeriodSummary } from '../../fleet/period-summary.js';
import type { ChartPart } from '../../formats/xlsx-package/assemble-xlsx.js';
import { chartXml, type ChartSeries, type ChartSpec } from '../../formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import { unitShown, type ShownIn } from '../../limits/shown-pressure.js';
import { CHART_COLOURS } from '../palette.js';
import { TREND_COLUMNS, trendColumns, type TrendColumnId, type TrendMeasure } from './trend-columns.js';

/** Where the charts' numbers stand. */
export interface TrendChartPlace {
  readonly sheet: string;
  readonly firstRow: number;
  readonly lastRow: number;
  readonly lettersOf: (id: TrendColumnId) => string;
  readonly by: PeriodLength;
  /** The unit in which losses are shown. */
  readonly shownIn: ShownIn;
  /** The row above the charts, counted from 1, and how many rows they cover. */
  readonly above: number;
  readonly height: number;
}

/** The first column of each chart, and the one beyond the last. */
const EDGES = [0, 6, 12, TREND_COLUMNS.length] as const;

/** The charts of the sheet Trend: fail rate, losses, build-up, side by side. Bars, for a period without tests is then no false zero. */
export function trendCharts(place: TrendChartPlace, periods: readonly PeriodSummary[]): ChartPart[] {
  const rate = series(place, periods, { title: 'Fail rate', values: 'rate', plus: 'rate_up', minus: 'rate_down', colour: CHART_COLOURS.mark });
  const median = (measure: TrendMeasure, title: string, colour: string): ChartSeries => series(place, periods, { title, values: `${measure}_median`, plus: `${measure}_whisker`, colour });
  const upTo = (values: TrendColumnId, title: string): ChartSeries => ({ ...series(place, periods, { title, values, colour: CHART_COLOURS.mark }), kind: 'line', unseen: true });
  const reach = (measure: TrendMeasure): ChartSeries => upTo(`${measure}_p90`, '90th percentile');
  return [
    chart(place, 0, 'Fail rate, with its 95 % interval', { valueAxisTitle: 'Fail rate', valueFormat: '0 %', ...(mayReachAll(periods) && { valueMaximum: 1 }), series: [rate, upTo('high', 'Upper end of the interval')] }),
    chart(place, 1, 'Loss: median, up to the 90th percentile', {
      valueAxisTitle: `Loss (${unitShown('psi/min', place.shownIn.shownPressure)})`,
      valueFormat: 'General',
      series: [median('released_loss', 'Released loss', CHART_COLOURS.bars), median('applied_loss', 'Applied loss', CHART_COLOURS.mark), reach('released_loss'), reach('applied_loss')],
    }),
    chart(place, 2, 'Build-up: median, up to the 90th percentile', { valueAxisTitle: 'Build-up time (s)', valueFormat: '0', series: [median('buildup_time', 'Build-up time', CHART_COLOURS.bars), reach('buildup_time')] }),
  ];
}

/** Whether an axis that a program chooses could go beyond 100 %. */
function mayReachAll(periods: readonly PeriodSummary[]): boolean {
  return periods.every(({ high }) => high === null) || periods.some(({ high }) => high !== null && high > 0.8);
}

interface Drawn {
  readonly title: string;
  readonly values: TrendColumnId;
  readonly plus?: TrendColumnId;
  readonly minus?: TrendColumnId;
  readonly colour: string;
}

function series({ sheet, firstRow, lastRow, lettersOf, shownIn }: TrendChartPlace, periods: readonly PeriodSummary[], { title, values, plus, minus, colour }: Drawn): ChartSeries {
  const range = (id: TrendColumnId): string => sheetReference(sheet, `$${lettersOf(id)}$${firstRow}:$${lettersOf(id)}$${lastRow}`);
  const { table, chartData } = trendColumns(shownIn);
  const cached = (id: TrendColumnId): (number | null)[] => {
    const column = [...table, ...chartData].find((one) => one.id === id)!;
    return Array.from({ length: lastRow - firstRow + 1 }, (_, index) => (periods[index] ? (column.value(periods[index]) as number | null) : null));
  };
  return {
    title,
    categoriesRef: range('period'),
    valuesRef: range(values),
    cachedCategories: Array.from({ length: lastRow - firstRow + 1 }, (_, index) => periods[index]?.period ?? ''),
    cachedValues: cached(values),
    colour,
    ...(plus && { errorBars: { plusRef: range(plus), cachedPlus: cached(plus), ...(minus && { minusRef: range(minus), cachedMinus: cached(minus) }) } }),
  };
}

function chart({ sheet, by, above, height }: TrendChartPlace, ordinal: number, title: string, spec: Pick<ChartSpec, 'valueAxisTitle' | 'valueFormat' | 'valueMaximum' | 'series'>): ChartPart {
  return {
    sheet,
    name: title,
    description: `Bars by ${by}: ${title.charAt(0).toLowerCase()}${title.slice(1)}`,
    anchor: { fromColumn: EDGES[ordinal]!, fromRow: above, toColumn: EDGES[ordinal + 1]!, toRow: above + height },
    xml: chartXml({ kind: 'bar', title, categoryAxisTitle: `${by.charAt(0).toUpperCase()}${by.slice(1)}`, categoryRises: true, valueMinimum: 0, ...spec }),
  };
}
