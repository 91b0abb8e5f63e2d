import type { RateDifference } from '../../fleet/baseline-comparison.js';
import type { ChartPart } from '../../formats/xlsx-package/assemble-xlsx.js';
import { chartXml, type ChartSeries } from '../../formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import { CHART_COLOURS } from '../palette.js';
import { BASELINE_CHART_DATA, BASELINE_COLUMNS, NOW, THEN } from './baseline-columns.js';

/** Where the chart stands and where its numbers do. */
export interface BaselineChartPlace {
  readonly sheet: string;
  readonly lettersOf: (id: string) => string;
  /** The first row with a check. */
  readonly firstRow: number;
  /** The row above the chart, counted from 1, how many rows it covers, and the column beyond its last. */
  readonly above: number;
  readonly height: number;
  readonly toColumn: number;
}

/** Bars: the fail rate of each check then and now, with intervals. */
export function baselineChart({ sheet, lettersOf, firstRow, above, height, toColumn }: BaselineChartPlace, checks: readonly RateDifference[]): ChartPart {
  const title = 'Fail rate by check, then and now, with 95 % intervals';
  const lastRow = firstRow + Math.max(1, checks.length) - 1;
  const range = (id: string): string => sheetReference(sheet, `$${lettersOf(id)}$${firstRow}:$${lettersOf(id)}$${lastRow}`);
  const cached = (id: string): (number | null)[] => {
    const { value } = [...BASELINE_COLUMNS, ...BASELINE_CHART_DATA].find((column) => column.id === id)!;
    return checks.map((rate) => value(rate) as number | null);
  };
  const series = (prefix: 'then' | 'now', words: string, colour: string, striped: boolean): ChartSeries => ({
    title: words,
    categoriesRef: range('name'),
    valuesRef: range(`${prefix}_rate`),
    cachedCategories: checks.map(({ name }) => name),
    cachedValues: cached(`${prefix}_rate`),
    colour,
    striped,
    errorBars: { plusRef: range(`${prefix}_up`), minusRef: range(`${prefix}_down`), cachedPlus: cached(`${prefix}_up`), cachedMinus: cached(`${prefix}_down`) },
  });
  const highest = Math.max(0, ...checks.flatMap(({ before, now }) => [before.high ?? 0, now.high ?? 0]));
  return {
    sheet,
    name: title,
    description: `Bars: ${title.charAt(0).toLowerCase()}${title.slice(1)}`,
    anchor: { fromColumn: 0, fromRow: above, toColumn, toRow: above + height },
    xml: chartXml({
      kind: 'bar',
      horizontal: true,
      title,
      categoryAxisTitle: 'Check',
      valueAxisTitle: 'Fail rate',
      valueFormat: '0 %',
      valueMinimum: 0,
      valueMaximum: highest === 0 ? 1 : Math.min(1, Math.ceil(highest * 10 + 0.5) / 10),
      series: [series('then', THEN, CHART_COLOURS.bars, true), series('now', NOW, CHART_COLOURS.mark, false)],
    }),
  };
}
