import type { ChartPart, FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { chartXml, type ChartSeries, type LineDash, type Marker } from '../../formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import { CHART_COLOURS } from '../palette.js';
import type { OneUnitLayout } from './one-unit-layout.js';
import { CHART_ROWS, CHARTS_BELOW, DAY_FORMAT, ONE_UNIT_SHEET } from './one-unit-places.js';
import type { OneUnitView } from './one-unit-view.js';

interface Drawn {
  readonly title: string;
  readonly x: string;
  readonly y: string;
  readonly colour: string;
  readonly dash: LineDash;
  readonly marker: Marker;
  readonly unseen?: boolean;
}

const MARKERS: readonly Marker[] = ['circle', 'square', 'triangle', 'diamond'];

/** The charts of the sheet One unit: the losses and their limits over time, and the control chart of the leading loss. They follow the unit that is picked. */
export function oneUnitCharts(layout: OneUnitLayout, view: OneUnitView): ChartPart[] {
  const colour = (index: number): string => CHART_COLOURS.series[index % CHART_COLOURS.series.length]!;
  const units = new Set(layout.losses.map(({ shownUnit }) => shownUnit));
  const axis = units.size === 1 ? `(${[...units][0]!})` : '(each in its own unit)';
  const losses = layout.losses.map(({ title }, index): Drawn => ({ title, x: `drawn${index}_x`, y: `drawn${index}_y`, colour: colour(index), dash: 'solid', marker: MARKERS[index % MARKERS.length]! }));
  const limits = layout.losses.flatMap(({ title, columns }, index): Drawn[] => {
    return columns.limit ? [{ title: `Limit, ${title.charAt(0).toLowerCase()}${title.slice(1)}`, x: `bound${index}_x`, y: `bound${index}_y`, colour: colour(index), dash: 'dash', marker: 'none' }] : [];
  });
  const line = (title: string, y: string, dash: LineDash): Drawn => ({ title, x: 'control_x', y, colour: CHART_COLOURS.limit, dash, marker: 'none' });
  const point = (title: string, y: string): Drawn => ({ title, x: 'control_x', y, colour: CHART_COLOURS.bars, dash: 'solid', marker: 'circle' });
  const frame = (x: string): Drawn => ({ title: 'Span', x, y: 'frame_y', colour: CHART_COLOURS.limit, dash: 'solid', marker: 'none', unseen: true });
  const edges = chartEdges(layout.widths);
  const chart = (ordinal: number, title: string, description: string, valueAxisTitle: string, drawn: readonly Drawn[]): ChartPart => ({
    sheet: ONE_UNIT_SHEET,
    name: title,
    description,
    anchor: { fromColumn: edges[ordinal]!, fromRow: CHARTS_BELOW, toColumn: edges[ordinal + 1]!, toRow: CHARTS_BELOW + CHART_ROWS },
    xml: chartXml({ kind: 'scatter', title, categoryAxisTitle: '', categoryFormat: DAY_FORMAT, categoryRises: true, valueAxisTitle, valueFormat: 'General', valueMinimum: 0, series: drawn.map((one) => series(layout, view, one)) }),
  });
  return [
    chart(0, 'Losses over time, and their limits', 'Points joined by lines: the losses of the chosen unit on each inspection; dashed lines: the limits that applied', `Loss ${axis}`, [...losses, ...limits, frame('frame_x')]),
    chart(1, 'Control chart of the leading loss', 'Points: the leading loss of each day since the last repair that took effect; solid line: its mean; dashed line: the upper limit, mean plus three sigma', `Loss ${axis}`, [point('Leading loss', 'control_y'), line('Mean', 'control_centre', 'solid'), line('Upper limit', 'control_upper', 'dash'), frame('control_frame_x')]),
    chart(2, 'CUSUM of the leading loss, high side', 'Points: what the leading loss gathers above its target; dashed line: the limit, five sigma', `Sum ${axis}`, [point('CUSUM, high side', 'cusum_y'), line('CUSUM limit', 'cusum_limit', 'dash'), frame('control_frame_x')]),
  ];
}

/** Columns that part the printed width into three. */
function chartEdges(widths: readonly number[]): number[] {
  const total = widths.reduce((sum, width) => sum + width, 0);
  let left = 0;
  const before = widths.map((width) => (left += width) - width);
  return [0, 1, 2, 3].map((part) => (part === 3 ? widths.length : before.reduce((nearest, at, index) => (Math.abs(at - (total * part) / 3) < Math.abs(before[nearest]! - (total * part) / 3) ? index : nearest), 0)));
}

function series({ range }: OneUnitLayout, view: OneUnitView, { title, x, y, colour, dash, marker, unseen }: Drawn): ChartSeries {
  const numbers = (values: readonly FillValue[]): (number | null)[] => values.map((value) => (typeof value === 'number' ? value : null));
  return {
    title,
    categoriesRef: sheetReference(ONE_UNIT_SHEET, range(x)),
    valuesRef: sheetReference(ONE_UNIT_SHEET, range(y)),
    cachedCategories: numbers(view.column(x)),
    cachedValues: numbers(view.column(y)),
    colour,
    dash,
    marker,
    ...(unseen && { unseen }),
  };
}
