import { chartSeriesXml, type ChartKind, type ChartSeries } from './chart-series-xml.js';
import { defect } from './sheet-limits.js';
import { xmlAttribute, xmlText } from './xml-text.js';

export type { ChartErrorBars, ChartKind, ChartSeries, LineDash } from './chart-series-xml.js';

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
  /** The ends of the value axis; without them the program that opens the workbook chooses. */
  readonly valueMinimum?: number;
  readonly valueMaximum?: number;
  readonly series: readonly ChartSeries[];
}

const CATEGORY_AXIS = 111_111_111;
const VALUE_AXIS = 222_222_222;

/**
 * A chart part (`c:chartSpace`), children in the order of the schema of ECMA-376 Part 1, 21.2. It has a legend only when
 * it has more than one series, and shows visible cells only.
 *
 * @throws TreadlebookError `defect` for a chart without series or a colour that is none
 * @example
 * chartXml({ kind: 'bar', title: 'Fail rate', categoryAxisTitle: 'Site', valueAxisTitle: 'Rate', valueFormat: '0 %', series })
 */
export function chartXml(spec: ChartSpec): string {
  const { kind, series } = spec;
  if (series.length === 0) throw defect(`chart ${spec.title}`, 'it has no series', 'give at least one');
  const rows = series.map((one, index) => chartSeriesXml(one, index, kind)).join('');
  const axes = `<c:axId val="${CATEGORY_AXIS}"/><c:axId val="${VALUE_AXIS}"/>`;
  const legend =
    series.length > 1 ? '<c:legend><c:legendPos val="b"/><c:overlay val="0"/></c:legend>' : '';
  return (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
    '<c:chartSpace xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart" ' +
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" ' +
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">' +
    `<c:roundedCorners val="0"/><c:chart>${titleXml(spec.title, 1400)}<c:autoTitleDeleted val="${spec.title === '' ? 1 : 0}"/>` +
    `<c:plotArea><c:layout/>${plotXml(spec, rows + (kind === 'bar' ? '<c:gapWidth val="60"/>' : ''), axes)}` +
    `${axesXml(spec)}</c:plotArea>${legend}<c:plotVisOnly val="1"/><c:dispBlanksAs val="gap"/></c:chart></c:chartSpace>`
  );
}

function plotXml({ kind, horizontal }: ChartSpec, rows: string, axes: string): string {
  if (kind === 'bar') {
    const direction = `<c:barDir val="${horizontal === true ? 'bar' : 'col'}"/>`;
    return `<c:barChart>${direction}<c:grouping val="clustered"/><c:varyColors val="0"/>${rows}${axes}</c:barChart>`;
  }
  if (kind === 'line') {
    return `<c:lineChart><c:grouping val="standard"/><c:varyColors val="0"/>${rows}<c:marker val="1"/>${axes}</c:lineChart>`;
  }
  return `<c:scatterChart><c:scatterStyle val="lineMarker"/><c:varyColors val="0"/>${rows}${axes}</c:scatterChart>`;
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
}

/** What the two kinds of axis have in common. */
function axisXml({ id, crosses, place, scaling, gridlines, title, format, crossing, labels }: Axis): string {
  return (
    `<c:axId val="${id}"/><c:scaling>${scaling}</c:scaling><c:delete val="0"/><c:axPos val="${place}"/>${gridlines}${title}` +
    `<c:numFmt formatCode="${xmlAttribute(format)}" sourceLinked="0"/><c:majorTickMark val="out"/><c:minorTickMark val="none"/>` +
    `<c:tickLblPos val="${labels}"/><c:crossAx val="${crosses}"/><c:crosses val="${crossing}"/>`
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
