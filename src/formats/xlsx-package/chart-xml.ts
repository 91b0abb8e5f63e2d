import { chartSeriesXml, type ChartKind, type ChartSeries } from './chart-series-xml.js';
import { defect } from './sheet-limits.js';
import { xmlAttribute, xmlText } from './xml-text.js';

export type { ChartErrorBars, ChartKind, ChartSeries, LineDash, Marker } from './chart-series-xml.js';

/** What a chart shows. Colours are the caller's choice. */
export interface ChartSpec {
  readonly kind: ChartKind;
  /** Bars only: bars lie, the first category at the top. Default: bars stand. */
  readonly horizontal?: boolean;
  readonly title: string;
  readonly categoryAxisTitle: string;
  readonly valueAxisTitle: string;
  /** The number format of the value axis, `0 %`. */
  readonly valueFormat: string;
  /** The number format of the category axis, for numbers and dates. Default `General`. */
  readonly categoryFormat?: string;
  /** Labels of the category axis rise, for those that are long, as dates are. */
  readonly categoryRises?: boolean;
  /** The ends of the value axis; without them the program that opens the workbook chooses. */
  readonly valueMinimum?: number;
  readonly valueMaximum?: number;
  /** Bars only: the bars of all series stand in one place, for series of which each category has only one. */
  readonly overlaid?: boolean;
  /** Keeps what stands in rows that a filter hides. */
  readonly hiddenToo?: boolean;
  readonly series: readonly ChartSeries[];
}

const CATEGORY_AXIS = 111_111_111;
const VALUE_AXIS = 222_222_222;
/** 45 degrees, in sixty-thousandths. */
const RISING = -45 * 60_000;

/**
 * A chart part (`c:chartSpace`), children in the order of the schema of ECMA-376 Part 1, 21.2. It has a legend only when
 * it has more than one series, and shows visible cells only, unless told. Standing bars may have lines over them.
 *
 * @throws TreadlebookError `defect` for a chart without series, a colour that is none, or lines over lying bars
 * @example
 * chartXml({ kind: 'bar', title: 'Fail rate', categoryAxisTitle: 'Site', valueAxisTitle: 'Rate', valueFormat: '0 %', series })
 */
export function chartXml(spec: ChartSpec): string {
  const { series } = spec;
  if (series.length === 0) throw defect(`chart ${spec.title}`, 'it has no series', 'give at least one');
  const axes = `<c:axId val="${CATEGORY_AXIS}"/><c:axId val="${VALUE_AXIS}"/>`;
  return (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
    '<c:chartSpace xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart" ' +
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" ' +
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">' +
    `<c:roundedCorners val="0"/><c:chart>${titleXml(spec.title, 1200)}<c:autoTitleDeleted val="${spec.title === '' ? 1 : 0}"/>` +
    `<c:plotArea><c:layout/>${plotXml(spec, axes)}${axesXml(spec)}</c:plotArea>${legendXml(series)}<c:plotVisOnly val="${spec.hiddenToo === true ? 0 : 1}"/><c:dispBlanksAs val="gap"/></c:chart></c:chartSpace>`
  );
}

/** The plots: one, or for bars with lines over them one of each; series are numbered through in the order of the caller. */
function plotXml({ kind, horizontal, overlaid, title, series }: ChartSpec, axes: string): string {
  const rows = series.map((one, index) => {
    const line = kind === 'bar' && one.kind === 'line';
    return { line, xml: chartSeriesXml(one, index, line ? 'line' : kind) };
  });
  const own = rows.filter(({ line }) => !line).map(({ xml }) => xml).join('');
  const lines = rows.filter(({ line }) => line).map(({ xml }) => xml).join('');
  if (kind === 'scatter') return `<c:scatterChart><c:scatterStyle val="lineMarker"/><c:varyColors val="0"/>${own}${axes}</c:scatterChart>`;
  if (kind === 'line') return lineChart(own, axes);
  if (own === '') throw defect(`chart ${title}`, 'it has lines over bars but no bars', 'make it a line chart');
  if (lines !== '' && horizontal === true) throw defect(`chart ${title}`, 'a line cannot lie along bars', 'let the bars stand');
  const direction = `<c:barDir val="${horizontal === true ? 'bar' : 'col'}"/>`;
  const bars = `<c:barChart>${direction}<c:grouping val="clustered"/><c:varyColors val="0"/>${own}<c:gapWidth val="60"/>${overlaid === true ? '<c:overlap val="100"/>' : ''}${axes}</c:barChart>`;
  return lines === '' ? bars : bars + lineChart(lines, axes);
}

/** A legend of the series that are seen, when there is more than one. */
function legendXml(series: readonly ChartSeries[]): string {
  if (series.filter(({ unseen }) => unseen !== true).length < 2) return '';
  const left = series.map(({ unseen }, index) => (unseen === true ? `<c:legendEntry><c:idx val="${index}"/><c:delete val="1"/></c:legendEntry>` : '')).join('');
  return `<c:legend><c:legendPos val="b"/>${left}<c:overlay val="0"/></c:legend>`;
}

function lineChart(rows: string, axes: string): string {
  return `<c:lineChart><c:grouping val="standard"/><c:varyColors val="0"/>${rows}<c:marker val="1"/>${axes}</c:lineChart>`;
}

function axesXml(spec: ChartSpec): string {
  const lying = spec.kind === 'bar' && spec.horizontal === true;
  const category = axisXml({
    id: CATEGORY_AXIS,
    crosses: VALUE_AXIS,
    place: lying ? 'l' : 'b',
    // Lying bars start at the foot; turned round, the first category is at the top as in the table.
    scaling: `<c:orientation val="${lying ? 'maxMin' : 'minMax'}"/>`,
    gridlines: '',
    title: titleXml(spec.categoryAxisTitle, 1000),
    format: spec.categoryFormat ?? 'General',
    crossing: 'autoZero',
    labels: 'low',
    rises: spec.categoryRises === true,
  });
  const end = (name: string, value: number | undefined): string => (value === undefined ? '' : `<c:${name} val="${value}"/>`);
  const value = axisXml({
    id: VALUE_AXIS,
    crosses: CATEGORY_AXIS,
    place: lying ? 'b' : 'l',
    scaling: `<c:orientation val="minMax"/>${end('max', spec.valueMaximum)}${end('min', spec.valueMinimum)}`,
    gridlines: '<c:majorGridlines><c:spPr><a:ln w="6350"><a:solidFill><a:srgbClr val="D9D9D9"/></a:solidFill></a:ln></c:spPr></c:majorGridlines>',
    title: titleXml(spec.valueAxisTitle, 1000),
    format: spec.valueFormat,
    crossing: lying ? 'max' : 'autoZero',
    labels: 'nextTo',
    rises: false,
  });
  if (spec.kind === 'scatter') {
    return (
      `<c:valAx>${category}<c:crossBetween val="midCat"/></c:valAx>` +
      `<c:valAx>${value}<c:crossBetween val="midCat"/></c:valAx>`
    );
  }
  return (
    `<c:catAx>${category}<c:auto val="1"/><c:lblAlgn val="ctr"/><c:lblOffset val="100"/><c:noMultiLvlLbl val="0"/></c:catAx>` +
    `<c:valAx>${value}<c:crossBetween val="between"/></c:valAx>`
  );
}

interface Axis {
  readonly id: number;
  readonly crosses: number;
  readonly place: string;
  readonly scaling: string;
  readonly gridlines: string;
  readonly title: string;
  readonly format: string;
  readonly crossing: string;
  readonly labels: string;
  readonly rises: boolean;
}

/** What the two kinds of axis have in common. */
function axisXml({ id, crosses, place, scaling, gridlines, title, format, crossing, labels, rises }: Axis): string {
  return (
    `<c:axId val="${id}"/><c:scaling>${scaling}</c:scaling><c:delete val="0"/><c:axPos val="${place}"/>${gridlines}${title}` +
    `<c:numFmt formatCode="${xmlAttribute(format)}" sourceLinked="0"/><c:majorTickMark val="out"/><c:minorTickMark val="none"/>` +
    `<c:tickLblPos val="${labels}"/><c:txPr><a:bodyPr${rises ? ` rot="${RISING}"` : ''}/><a:p><a:pPr><a:defRPr sz="900"/></a:pPr><a:endParaRPr lang="en-GB"/></a:p></c:txPr><c:crossAx val="${crosses}"/><c:crosses val="${crossing}"/>`
  );
}

/** A title; `size` in hundredths of a point. */
function titleXml(text: string, size: number): string {
  if (text === '') return '';
  return (
    '<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:r>' +
    `<a:rPr lang="en-GB" sz="${size}" b="1"/><a:t>${xmlText(text)}</a:t></a:r></a:p></c:rich></c:tx><c:overlay val="0"/></c:title>`
  );
}
