import { SaxesParser } from 'saxes';
import { addContentType } from './content-types.js';
import { partText, type Parts } from './read-parts.js';
import { addRelationship, OFFICE_RELATIONSHIP, relationshipsOf } from './relationships.js';
import { defect } from './sheet-limits.js';
import { appendChildren, parse, splitXml } from './split-xml.js';
import { xmlAttribute } from './xml-text.js';

/** A chart and its place on a sheet. */
export interface ChartPart {
  /** The sheet's name in the template. */
  readonly sheet: string;
  /** The whole part, a `c:chartSpace`. */
  readonly xml: string;
  /** The cells it covers, 0-based; `to` lies just beyond the lower right corner. */
  readonly anchor: {
    readonly fromColumn: number;
    readonly fromRow: number;
    readonly toColumn: number;
    readonly toRow: number;
  };
  readonly name: string;
  /** What it shows, in words, for those who cannot see it. */
  readonly description: string;
}

const DRAWING_TYPE = 'application/vnd.openxmlformats-officedocument.drawing+xml';
const CHART_TYPE = 'application/vnd.openxmlformats-officedocument.drawingml.chart+xml';
const XDR = 'http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing';
const DRAWINGML = 'http://schemas.openxmlformats.org/drawingml/2006/main';
const CHART = 'http://schemas.openxmlformats.org/drawingml/2006/chart';

/**
 * Adds chart parts with all their links. Charts of one sheet share its drawing; a drawing that is there is added to.
 *
 * @param sheets sheet name to path of the part
 * @returns for each sheet that needs one, the `drawing` element to put in the sheet
 */
export function addCharts(
  parts: Parts,
  sheets: ReadonlyMap<string, string>,
  charts: readonly ChartPart[],
): Map<string, string> {
  const elements = new Map<string, string>();
  for (const chart of charts) {
    const sheetPath = sheets.get(chart.sheet);
    if (sheetPath === undefined) throw defect(`chart ${chart.name}`, `the template has no sheet ${chart.sheet}`, 'name a sheet of the template');
    const { root } = splitXml(chart.xml, `chart ${chart.name}`);
    if (root !== 'c:chartSpace') throw defect(`chart ${chart.name}`, `its root is ${root}`, 'give a c:chartSpace');
    const chartPath = freePath(parts, 'xl/charts/chart');
    parts.set(chartPath, Buffer.from(chart.xml));
    addContentType(parts, chartPath, CHART_TYPE);

    let drawing = relationshipsOf(parts, sheetPath).find(({ type }) => type === `${OFFICE_RELATIONSHIP}/drawing`)?.target;
    if (drawing === undefined) {
      drawing = freePath(parts, 'xl/drawings/drawing');
      const empty = `<xdr:wsDr xmlns:xdr="${XDR}" xmlns:a="${DRAWINGML}"></xdr:wsDr>`;
      parts.set(drawing, Buffer.from(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n${empty}`));
      addContentType(parts, drawing, DRAWING_TYPE);
      const id = addRelationship(parts, sheetPath, 'drawing', drawing);
      elements.set(chart.sheet, `<drawing xmlns:r="${OFFICE_RELATIONSHIP}" r:id="${id}"/>`);
    }
    const xml = partText(parts, drawing);
    const anchor = anchorXml(chart, addRelationship(parts, drawing, 'chart', chartPath), freeShapeId(xml, drawing));
    parts.set(drawing, Buffer.from(appendChildren(xml, drawing, anchor)));
  }
  return elements;
}

function freePath(parts: Parts, stem: string): string {
  let number = 1;
  while (parts.has(`${stem}${number}.xml`)) number += 1;
  return `${stem}${number}.xml`;
}

function freeShapeId(drawing: string, path: string): number {
  let last = 1;
  const parser = new SaxesParser();
  parser.on('opentag', ({ name, attributes }) => {
    if (name.endsWith(':cNvPr')) last = Math.max(last, Number(attributes['id'] ?? 0));
  });
  parse(parser, drawing, path);
  return last + 1;
}

function anchorXml({ anchor, name, description }: ChartPart, relationship: string, shape: number): string {
  const { fromColumn, fromRow, toColumn, toRow } = anchor;
  const isCell = (value: number): boolean => Number.isInteger(value) && value >= 0;
  if (![fromColumn, fromRow, toColumn, toRow].every(isCell) || toColumn <= fromColumn || toRow <= fromRow) {
    throw defect(`chart ${name}`, 'its place on the sheet is no area', 'give whole numbers, the second corner beyond the first');
  }
  const corner = (column: number, row: number): string =>
    `<xdr:col>${column}</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>${row}</xdr:row><xdr:rowOff>0</xdr:rowOff>`;
  return (
    `<xdr:twoCellAnchor xmlns:xdr="${XDR}" xmlns:a="${DRAWINGML}">` +
    `<xdr:from>${corner(fromColumn, fromRow)}</xdr:from><xdr:to>${corner(toColumn, toRow)}</xdr:to>` +
    '<xdr:graphicFrame macro=""><xdr:nvGraphicFramePr>' +
    `<xdr:cNvPr id="${shape}" name="${xmlAttribute(name)}" descr="${xmlAttribute(description)}"/><xdr:cNvGraphicFramePr/>` +
    '</xdr:nvGraphicFramePr><xdr:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xdr:xfrm>' +
    `<a:graphic><a:graphicData uri="${CHART}">` +
    `<c:chart xmlns:c="${CHART}" xmlns:r="${OFFICE_RELATIONSHIP}" r:id="${relationship}"/>` +
    '</a:graphicData></a:graphic></xdr:graphicFrame><xdr:clientData/></xdr:twoCellAnchor>'
  );
}
