import { cellText } from './cell-text.js';
import { defect } from './sheet-limits.js';
import { xmlText } from './xml-text.js';

/** How a line is drawn; what DrawingML calls a preset dash. */
export type LineDash = 'solid' | 'dash' | 'dashDot' | 'lgDash' | 'sysDash' | 'sysDot';

/** What marks a point. */
export type Marker = 'circle' | 'square' | 'diamond' | 'triangle' | 'none';

/** Whiskers of a series: how far they reach above and below each value, in the unit of the values. Without `minus` they reach up only. */
export interface ChartErrorBars {
  readonly plusRef: string;
  readonly cachedPlus: readonly (number | null)[];
  readonly minusRef?: string;
  readonly cachedMinus?: readonly (number | null)[];
}

/** One series of a chart: references to cells, and the values they hold now. */
export interface ChartSeries {
  readonly title: string;
  /** The categories, or in a scatter chart the numbers along the horizontal axis. */
  readonly categoriesRef: string;
  readonly valuesRef: string;
  readonly cachedCategories: readonly (string | number | null)[];
  /** A null leaves a gap. */
  readonly cachedValues: readonly (number | null)[];
  /** Six hexadecimal digits, `0072B2`. */
  readonly colour: string;
  /** Bars only: stripes of the colour on white, so that the series stands apart without colour. */
  readonly striped?: boolean;
  /** The line of a line chart (default solid); a scatter chart has a line only when this is given. Bars ignore it. */
  readonly dash?: LineDash;
  /** What marks the points of a line or scatter chart; without it each series has a mark of its own. */
  readonly marker?: Marker;
  /** In a chart of standing bars: a line over them, on the same axes. */
  readonly kind?: 'line';
  /** A line that is not drawn and not in the legend: it only makes the axis reach to its values, as whiskers do not. */
  readonly unseen?: boolean;
  readonly errorBars?: ChartErrorBars;
}

export type ChartKind = 'bar' | 'line' | 'scatter';

const MARKERS: readonly Marker[] = ['circle', 'square', 'diamond', 'triangle'];

/** The `c:ser` element of a series, children in the order of CT_BarSer, CT_LineSer or CT_ScatterSer. */
export function chartSeriesXml(series: ChartSeries, index: number, kind: ChartKind): string {
  if (!/^[0-9A-Fa-f]{6}$/.test(series.colour)) {
    throw defect(`series ${series.title}`, `${series.colour} is no colour`, 'give six hexadecimal digits');
  }
  const head = `<c:idx val="${index}"/><c:order val="${index}"/><c:tx><c:v>${xmlText(series.title)}</c:v></c:tx>`;
  const fill = `<a:solidFill><a:srgbClr val="${series.colour.toUpperCase()}"/></a:solidFill>`;
  const bars = errorBarsXml(series.errorBars, kind);
  const values = numbers(series.valuesRef, series.cachedValues);
  if (kind === 'bar') {
    const inside = series.striped === true ? stripesXml(series.colour) : fill;
    return (
      `<c:ser>${head}<c:spPr>${inside}</c:spPr><c:invertIfNegative val="0"/>${bars}` +
      `<c:cat>${categories(series)}</c:cat><c:val>${values}</c:val></c:ser>`
    );
  }
  const line =
    series.unseen === true || (kind === 'scatter' && series.dash === undefined)
      ? '<a:ln w="19050"><a:noFill/></a:ln>'
      : `<a:ln w="28575" cap="rnd">${fill}<a:prstDash val="${series.dash ?? 'solid'}"/><a:round/></a:ln>`;
  const marker = markerXml(series.unseen === true ? 'none' : (series.marker ?? MARKERS[index % MARKERS.length]!), fill);
  const points =
    kind === 'line'
      ? `<c:cat>${categories(series)}</c:cat><c:val>${values}</c:val>`
      : `<c:xVal>${categories(series)}</c:xVal><c:yVal>${values}</c:yVal>`;
  return `<c:ser>${head}<c:spPr>${line}</c:spPr>${marker}${bars}${points}<c:smooth val="0"/></c:ser>`;
}

function stripesXml(colour: string): string {
  const ink = `<a:srgbClr val="${colour.toUpperCase()}"/>`;
  return (
    `<a:pattFill prst="wdUpDiag"><a:fgClr>${ink}</a:fgClr><a:bgClr><a:srgbClr val="FFFFFF"/></a:bgClr></a:pattFill>` +
    `<a:ln w="12700"><a:solidFill>${ink}</a:solidFill></a:ln>`
  );
}

function markerXml(marker: Marker, fill: string): string {
  if (marker === 'none') return '<c:marker><c:symbol val="none"/></c:marker>';
  return `<c:marker><c:symbol val="${marker}"/><c:size val="7"/><c:spPr>${fill}<a:ln w="9525">${fill}</a:ln></c:spPr></c:marker>`;
}

function errorBarsXml(bars: ChartErrorBars | undefined, kind: ChartKind): string {
  if (bars === undefined) return '';
  const direction = kind === 'scatter' ? '<c:errDir val="y"/>' : '';
  const minus = bars.minusRef === undefined ? '' : `<c:minus>${numbers(bars.minusRef, bars.cachedMinus ?? [])}</c:minus>`;
  return (
    `<c:errBars>${direction}<c:errBarType val="${minus === '' ? 'plus' : 'both'}"/><c:errValType val="cust"/><c:noEndCap val="0"/>` +
    `<c:plus>${numbers(bars.plusRef, bars.cachedPlus)}</c:plus>${minus}` +
    '<c:spPr><a:ln w="12700"><a:solidFill><a:srgbClr val="404040"/></a:solidFill></a:ln></c:spPr></c:errBars>'
  );
}

function categories({ categoriesRef, cachedCategories }: ChartSeries): string {
  if (cachedCategories.every((value) => typeof value !== 'string')) {
    return numbers(categoriesRef, cachedCategories as readonly (number | null)[]);
  }
  const points = cachedCategories
    .map((value, index) => (value === null ? '' : point(index, typeof value === 'string' ? cellText(value) : `${value}`)))
    .join('');
  return `<c:strRef><c:f>${xmlText(categoriesRef)}</c:f><c:strCache><c:ptCount val="${cachedCategories.length}"/>${points}</c:strCache></c:strRef>`;
}

function numbers(ref: string, cached: readonly (number | null)[]): string {
  const points = cached
    .map((value, index) => (value === null || !Number.isFinite(value) ? '' : point(index, `${value}`)))
    .join('');
  return (
    `<c:numRef><c:f>${xmlText(ref)}</c:f><c:numCache><c:formatCode>General</c:formatCode>` +
    `<c:ptCount val="${cached.length}"/>${points}</c:numCache></c:numRef>`
  );
}

function point(index: number, value: string): string {
  return `<c:pt idx="${index}"><c:v>${value}</c:v></c:pt>`;
}
