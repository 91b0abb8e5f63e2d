import ExcelJS from 'exceljs';
import { beforeAll, describe, expect, it } from 'vitest';
import { assembleXlsx, type ChartPart } from '../../../src/formats/xlsx-package/assemble-xlsx.js';
import { chartXml, type ChartSeries, type ChartSpec } from '../../../src/formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../../src/formats/xlsx-package/sheet-reference.js';
import { misplacedInChart } from './misplaced-in-chart.js';
import { childNames, collect, makeTemplate, runLibreOffice, unzip } from './support.js';

const SHEET = "Driver's test";
const SITES = ['North <yard>', 'South & quay', 'East', 'West'];

function series(column: string, title: string, colour: string, values: (number | null)[], more: Partial<ChartSeries> = {}): ChartSeries {
  return {
    title,
    categoriesRef: sheetReference(SHEET, '$B$4:$B$7'),
    valuesRef: sheetReference(SHEET, `$${column}$4:$${column}$7`),
    cachedCategories: SITES,
    cachedValues: values,
    colour,
    ...more,
  };
}

const LOSS = [0.12, 0.3, 0.05, 0.22];
const WHISKERS = {
  plusRef: sheetReference(SHEET, '$D$4:$D$7'), minusRef: sheetReference(SHEET, '$D$4:$D$7'),
  cachedPlus: [0.1, 0.05, 0.02, 0.08], cachedMinus: [0.1, 0.05, 0.02, 0.08],
};
const COMMON = { title: 'Fail rate & "site"', categoryAxisTitle: 'Site', valueAxisTitle: 'Fail rate', valueFormat: '0 %' };
const BAR: ChartSpec = { ...COMMON, kind: 'bar', horizontal: true, valueMinimum: 0, series: [series('A', 'Fail rate', '0072B2', LOSS, { errorBars: WHISKERS })] };
const COLUMN: ChartSpec = { ...COMMON, kind: 'bar', title: 'Standing', series: [series('A', 'One', '0072B2', LOSS), series('E', 'Two', 'E69F00', [0.2, 0.1, null, 0.4])] };
const LINE: ChartSpec = { ...COMMON, kind: 'line', title: 'Trend', series: [series('A', 'Median', '0072B2', LOSS, { errorBars: WHISKERS }), series('E', '90th', 'D55E00', [0.2, null, 0.1, 0.4], { dash: 'dash' })] };
const SCATTER: ChartSpec = { ...COMMON, kind: 'scatter', title: 'Points', series: [series('E', 'Points', '009E73', LOSS, { categoriesRef: sheetReference(SHEET, '$A$4:$A$7'), cachedCategories: [1, 2, 3, 4] })] };

const LINES_OVER_BARS: ChartSpec = {
  ...COMMON, kind: 'bar', title: 'Lines over bars', overlaid: true, hiddenToo: true, valueMinimum: 0, valueMaximum: 1,
  series: [
    series('A', 'Beyond', 'B84A00', LOSS, { striped: true, errorBars: { plusRef: WHISKERS.plusRef, cachedPlus: WHISKERS.cachedPlus } }),
    series('E', 'Within', '2F6C9E', [0.2, 0.1, null, 0.4]),
    series('D', 'Limit', '404040', [1, 1, 1, 1], { kind: 'line', dash: 'dash', marker: 'none' }),
    series('D', 'Reach', '404040', [1, 1, 1, 1], { kind: 'line', unseen: true }),
  ],
};
const POINTS = { categoriesRef: sheetReference(SHEET, '$A$4:$A$7'), cachedCategories: [46000, 46010, 46020, 46030] };
const RISING: ChartSpec = {
  ...COMMON, kind: 'scatter', title: 'Rising', categoryAxisTitle: '', categoryFormat: '[<367]"";yyyy-mm-dd', categoryRises: true,
  series: [series('E', 'Joined', '2F6C9E', LOSS, { ...POINTS, dash: 'solid' }), series('E', 'Apart', 'B84A00', LOSS, POINTS), series('D', 'Span', '404040', [0, 0, 0, 0], { ...POINTS, dash: 'solid', unseen: true })],
};

describe('chartXml', () => {
  it('puts every element at its place in the schema', () => {
    for (const spec of [BAR, COLUMN, LINE, SCATTER, LINES_OVER_BARS, RISING]) expect(misplacedInChart(chartXml(spec))).toStrictEqual([]);
    expect(misplacedInChart('<c:scaling xmlns:c="c"><c:max/><c:orientation/><c:low/></c:scaling>')).toStrictEqual(['c:orientation in c:scaling', 'c:low in c:scaling']);
  });

  it('draws lines over standing bars, numbers its series through and leaves what is not seen out of the legend', () => {
    const xml = chartXml(LINES_OVER_BARS);
    const [bars, lines] = xml.split('<c:lineChart>') as [string, string];
    expect([...bars.matchAll(/<c:idx val="(\d)"\/><c:order/g)].map(([, index]) => index)).toStrictEqual(['0', '1']);
    expect([...lines.matchAll(/<c:idx val="(\d)"\/><c:order/g)].map(([, index]) => index)).toStrictEqual(['2', '3']);
    expect([...xml.matchAll(/<c:legendEntry><c:idx val="(\d)"\/><c:delete val="1"\/><\/c:legendEntry>/g)].map(([, index]) => index)).toStrictEqual(['3']);
    expect(bars).toContain('<c:overlap val="100"/>');
    expect(bars).toContain('<a:pattFill prst="wdUpDiag">');
    expect(lines.match(/<a:noFill\/>/g)).toHaveLength(1);
    expect(xml).toContain('<c:plotVisOnly val="0"/>');
    expect(xml).toContain('<c:max val="1"/><c:min val="0"/>');
    // The bars have whiskers that only reach up.
    expect(xml).toContain('<c:errBarType val="plus"/>');
    expect(xml).not.toContain('<c:minus>');
    expect(() => chartXml({ ...LINES_OVER_BARS, horizontal: true })).toThrow('a line cannot lie along bars');
    expect(() => chartXml({ ...LINES_OVER_BARS, series: LINES_OVER_BARS.series.slice(2) })).toThrow('it has lines over bars but no bars');
  });

  it('joins the points of a scatter chart only where a line is asked for, and lets long labels rise', () => {
    const xml = chartXml(RISING);
    const [, joined, apart, unseen] = xml.split('<c:ser>') as [string, string, string, string];
    expect(joined).toContain('<a:prstDash val="solid"/>');
    expect([apart, unseen].map((one) => one.includes('<a:ln w="19050"><a:noFill/></a:ln>'))).toStrictEqual([true, true]);
    expect([joined, apart, unseen].map((one) => /<c:symbol val="(\w+)"/.exec(one)![1])).toStrictEqual(['circle', 'square', 'none']);
    // ECMA-376 Part 1, 20.1.10.3: an angle is counted in sixty-thousandths of a degree, clockwise; here the first axis only.
    expect([...xml.matchAll(/<a:bodyPr rot="([^"]*)"\/>/g)].map(([, angle]) => angle)).toStrictEqual(['-2700000']);
    expect(xml.split('<c:valAx>')[1]).toContain('rot="-2700000"');
    expect(xml).toContain('<c:numFmt formatCode="[&lt;367]&quot;&quot;;yyyy-mm-dd" sourceLinked="0"/>');
    expect(xml).not.toContain('<a:t>Site</a:t>');
  });

  it('carries references, cached points, axis titles and the axes that cross', () => {
    const xml = chartXml(BAR);
    expect(xml).toContain("<c:f>'Driver''s test'!$A$4:$A$7</c:f>");
    expect(xml).toContain('<c:ptCount val="4"/><c:pt idx="0"><c:v>North &lt;yard&gt;</c:v></c:pt>');
    expect(xml).toContain('<c:pt idx="3"><c:v>0.22</c:v></c:pt>');
    expect(xml).toContain('<a:t>Fail rate &amp; "site"</a:t>');
    expect(xml).toContain('<c:barDir val="bar"/>');
    expect(xml).toContain('<c:min val="0"/>');
    expect(xml).toContain('<c:numFmt formatCode="0 %" sourceLinked="0"/>');
    expect([...xml.matchAll(/<c:(axId|crossAx) val="(\d+)"\/>/g)].map((match) => match[2]?.slice(0, 1))).toStrictEqual(['1', '2', '1', '2', '2', '1']);
    expect(xml).not.toContain('<c:legend>');
    expect(chartXml(COLUMN)).toContain('<c:legend>');
    expect(chartXml(LINE)).toContain('<a:prstDash val="dash"/>');
    expect(chartXml(LINE)).toContain('<c:ptCount val="4"/><c:pt idx="0"><c:v>0.2</c:v></c:pt><c:pt idx="2">');
  });

  it('refuses a chart without series and a colour that is none', () => {
    expect(() => chartXml({ ...BAR, series: [] })).toThrow('it has no series');
    expect(() => chartXml({ ...BAR, series: [series('A', 'x', 'blue', LOSS)] })).toThrow('blue is no colour');
  });
});

describe('charts in the workbook', () => {
  let template: Uint8Array;
  let bytes: Buffer;
  const chart = (sheet: string, spec: ChartSpec, fromRow: number, name: string): ChartPart => ({
    sheet, xml: chartXml(spec), anchor: { fromColumn: 5, fromRow, toColumn: 13, toRow: fromRow + 14 }, name, description: `"${name}" in words`,
  });
  const rows = SITES.map((site, index) => [LOSS[index] ?? 0, site, true, WHISKERS.cachedPlus[index] ?? 0, (LOSS[index] ?? 0) * 2, '', false, true, 0, '', 0]);

  beforeAll(async () => {
    template = await makeTemplate();
    const charts = [chart('Start here', BAR, 4, 'Bars'), chart('Start here', COLUMN, 20, 'Columns'), chart('Start here', SCATTER, 36, 'Points'), chart('Limits', LINE, 6, 'Trend')];
    bytes = await collect(assembleXlsx({ template, fills: [{ sheet: SHEET, templateRow: 4, count: 4, rows }], charts }));
  });

  it('links sheet, drawing, chart and content type', async () => {
    const files = await unzip(bytes);
    const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
    expect([...files.keys()].filter((path) => /charts|drawings/.test(path)).sort()).toStrictEqual([
      'xl/charts/chart1.xml', 'xl/charts/chart2.xml', 'xl/charts/chart3.xml', 'xl/charts/chart4.xml',
      'xl/drawings/_rels/drawing1.xml.rels', 'xl/drawings/_rels/drawing2.xml.rels', 'xl/drawings/drawing1.xml', 'xl/drawings/drawing2.xml',
      'xl/drawings/vmlDrawing3.vml',
    ]);
    expect(files.get('xl/worksheets/sheet1.xml')).toContain(`<drawing xmlns:r="${office}" r:id="rId1"/></worksheet>`);
    expect(files.get('xl/worksheets/_rels/sheet1.xml.rels')).toContain(`<Relationship Id="rId1" Type="${office}/drawing" Target="../drawings/drawing2.xml"/>`);
    for (const number of [1, 2, 3]) {
      expect(files.get('xl/drawings/_rels/drawing2.xml.rels')).toContain(`<Relationship Id="rId${number}" Type="${office}/chart" Target="../charts/chart${number}.xml"/>`);
      expect(files.get('xl/drawings/drawing2.xml')).toContain(`r:id="rId${number}"/>`);
    }
    // The sheet with a picture keeps its one drawing; the picture is the first shape, the chart another.
    expect(files.get('xl/worksheets/sheet3.xml')?.match(/<drawing /g)).toHaveLength(1);
    expect(childNames(files.get('xl/drawings/drawing1.xml') ?? '')).toStrictEqual(['xdr:twoCellAnchor']);
    expect(files.get('xl/drawings/_rels/drawing1.xml.rels')).toMatch(/image1\.png.*Id="rId2" Type="[^"]*\/chart" Target="..\/charts\/chart4\.xml"/);
    const shapes = [...(files.get('xl/drawings/drawing1.xml') ?? '').matchAll(/cNvPr id="(\d+)"/g)].map((match) => match[1]);
    expect(shapes).toHaveLength(2);
    expect(new Set(shapes).size).toBe(2);
    expect(files.get('xl/drawings/drawing2.xml')).toContain('name="Bars" descr="&quot;Bars&quot; in words"');
    const types = files.get('[Content_Types].xml') ?? '';
    expect(types.match(/PartName="\/xl\/charts\/chart\d\.xml" ContentType="application\/vnd\.openxmlformats-officedocument\.drawingml\.chart\+xml"/g)).toHaveLength(4);
    expect(types.match(/PartName="\/xl\/drawings\/drawing\d\.xml" ContentType="application\/vnd\.openxmlformats-officedocument\.drawing\+xml"/g)).toHaveLength(2);
    for (const [path, xml] of files) if (/\.(xml|rels)$/.test(path)) childNames(xml);
  });

  it('leaves a workbook that exceljs opens', async () => {
    const book = new ExcelJS.Workbook();
    await book.xlsx.load(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer);
    expect(book.worksheets.map((sheet) => sheet.name)).toStrictEqual(['Start here', SHEET, 'Limits']);
  });

  it('holds four charts that LibreOffice takes over', { timeout: 120_000 }, async (context) => {
    const files = runLibreOffice(context, bytes, 'ods');
    if (files === undefined) return;
    const parts = await unzip(files.get('book.ods') ?? Buffer.alloc(0));
    const charts = [...parts].filter(([path, xml]) => /^Object [^/]*\/content\.xml$/.test(path) && xml.includes('<chart:chart '));
    const kinds = charts.map(([, xml]) => /chart:class="chart:(\w+)"/.exec(xml)?.[1]).sort();
    expect(kinds).toStrictEqual(['bar', 'bar', 'line', 'scatter']);
    expect(charts.filter(([, xml]) => xml.includes('chart:error-indicator'))).toHaveLength(2);
    const described = [...(parts.get('content.xml') ?? '').matchAll(/<svg:desc>([^<]*)<\/svg:desc>/g)].map((match) => match[1]);
    expect(described).toStrictEqual(['Bars', 'Columns', 'Points', 'Trend'].map((name) => `&quot;${name}&quot; in words`));
  });

  it('refuses a chart for a sheet that is not there, and a place that is no area', async () => {
    const refuse = async (part: ChartPart): Promise<unknown> => collect(assembleXlsx({ template, fills: [], charts: [part] }));
    await expect(refuse(chart('Nowhere', BAR, 1, 'Lost'))).rejects.toThrow('chart Lost: the template has no sheet Nowhere');
    await expect(refuse({ ...chart(SHEET, BAR, 1, 'Thin'), anchor: { fromColumn: 1, fromRow: 1, toColumn: 1, toRow: 9 } })).rejects.toThrow('is no area');
    await expect(refuse({ ...chart(SHEET, BAR, 1, 'Bad'), xml: '<a></b>' })).rejects.toThrow('not well-formed');
  });
});
