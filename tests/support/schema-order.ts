import type { XmlElement } from './xml-tree.js';

/**
 * The children of each element that we write, in the order of ECMA-376 Part 1, annex A (A.2 SpreadsheetML, A.4 and A.5 DrawingML), and Part 2,
 * annex C (relationships, content types); typed off from the schemas. `|` stands between the members of a choice, which may come in any order.
 */
const ORDER: Readonly<Record<string, string>> = {
  workbook: 'fileVersion fileSharing workbookPr workbookProtection bookViews sheets functionGroups externalReferences definedNames calcPr oleSize customWorkbookViews pivotCaches smartTagPr smartTagTypes webPublishing fileRecoveryPr webPublishObjects extLst',
  bookViews: 'workbookView', sheets: 'sheet', definedNames: 'definedName',
  worksheet: 'sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection protectedRanges scenarios autoFilter sortState dataConsolidate customSheetViews mergeCells phoneticPr conditionalFormatting dataValidations hyperlinks printOptions pageMargins pageSetup headerFooter rowBreaks colBreaks customProperties cellWatches ignoredErrors smartTags drawing legacyDrawing legacyDrawingHF drawingHF picture oleObjects controls webPublishItems tableParts extLst',
  sheetPr: 'tabColor outlinePr pageSetUpPr', sheetViews: 'sheetView', sheetView: 'pane selection pivotSelection extLst', cols: 'col', sheetData: 'row', row: 'c', c: 'f v is extLst', is: 't r rPh phoneticPr', mergeCells: 'mergeCell',
  conditionalFormatting: 'cfRule extLst', cfRule: 'formula colorScale dataBar iconSet extLst', dataValidations: 'dataValidation', dataValidation: 'formula1 formula2', headerFooter: 'oddHeader oddFooter evenHeader evenFooter firstHeader firstFooter',
  rowBreaks: 'brk', colBreaks: 'brk', autoFilter: 'filterColumn sortState extLst',
  styleSheet: 'numFmts fonts fills borders cellStyleXfs cellXfs cellStyles dxfs tableStyles colors extLst',
  numFmts: 'numFmt', fonts: 'font', fills: 'fill', borders: 'border', cellStyleXfs: 'xf', cellXfs: 'xf', cellStyles: 'cellStyle', dxfs: 'dxf', xf: 'alignment protection extLst', dxf: 'font numFmt fill alignment border protection extLst',
  font: 'b|i|strike|condense|extend|outline|shadow|u|vertAlign|sz|color|name|family|charset|scheme', fill: 'patternFill gradientFill', patternFill: 'fgColor bgColor', border: 'left right top bottom diagonal vertical horizontal',
  left: 'color', right: 'color', top: 'color', bottom: 'color', diagonal: 'color',
  sst: 'si extLst', si: 't r rPh phoneticPr', r: 'rPr t',
  'xdr:wsDr': 'xdr:twoCellAnchor|xdr:oneCellAnchor|xdr:absoluteAnchor', 'xdr:twoCellAnchor': 'xdr:from xdr:to xdr:graphicFrame xdr:clientData', 'xdr:from': 'xdr:col xdr:colOff xdr:row xdr:rowOff', 'xdr:to': 'xdr:col xdr:colOff xdr:row xdr:rowOff',
  'xdr:graphicFrame': 'xdr:nvGraphicFramePr xdr:xfrm a:graphic', 'xdr:nvGraphicFramePr': 'xdr:cNvPr xdr:cNvGraphicFramePr', 'xdr:xfrm': 'a:off a:ext', 'a:graphic': 'a:graphicData', 'a:graphicData': 'c:chart',
  'c:chartSpace': 'c:date1904 c:lang c:roundedCorners c:style c:clrMapOvr c:pivotSource c:protection c:chart c:spPr c:txPr c:externalData c:printSettings c:userShapes c:extLst',
  'c:chart': 'c:title c:autoTitleDeleted c:pivotFmts c:view3D c:floor c:sideWall c:backWall c:plotArea c:legend c:plotVisOnly c:dispBlanksAs c:extLst',
  'c:plotArea': 'c:layout c:barChart|c:lineChart|c:scatterChart c:catAx|c:valAx c:dTable c:spPr c:extLst',
  'c:barChart': 'c:barDir c:grouping c:varyColors c:ser c:dLbls c:gapWidth c:overlap c:serLines c:axId c:extLst', 'c:lineChart': 'c:grouping c:varyColors c:ser c:dLbls c:dropLines c:hiLowLines c:upDownBars c:marker c:smooth c:axId c:extLst', 'c:scatterChart': 'c:scatterStyle c:varyColors c:ser c:dLbls c:axId c:extLst',
  'c:ser': 'c:idx c:order c:tx c:spPr c:invertIfNegative c:pictureOptions c:marker c:dPt c:dLbls c:trendline c:errBars c:cat c:val c:xVal c:yVal c:smooth c:shape c:extLst', 'c:errBars': 'c:errDir c:errBarType c:errValType c:noEndCap c:plus c:minus c:val c:spPr c:extLst',
  'c:catAx': 'c:axId c:scaling c:delete c:axPos c:majorGridlines c:minorGridlines c:title c:numFmt c:majorTickMark c:minorTickMark c:tickLblPos c:spPr c:txPr c:crossAx c:crosses c:crossesAt c:auto c:lblAlgn c:lblOffset c:noMultiLvlLbl c:extLst',
  'c:valAx': 'c:axId c:scaling c:delete c:axPos c:majorGridlines c:minorGridlines c:title c:numFmt c:majorTickMark c:minorTickMark c:tickLblPos c:spPr c:txPr c:crossAx c:crosses c:crossesAt c:crossBetween c:majorUnit c:minorUnit c:dispUnits c:extLst',
  'c:scaling': 'c:logBase c:orientation c:max c:min c:extLst', 'c:title': 'c:tx c:layout c:overlay c:spPr c:txPr c:extLst', 'c:legend': 'c:legendPos c:legendEntry c:layout c:overlay c:spPr c:txPr c:extLst', 'c:legendEntry': 'c:idx c:delete c:txPr c:extLst', 'c:marker': 'c:symbol c:size c:spPr c:extLst',
  'c:txPr': 'a:bodyPr a:lstStyle a:p', 'c:rich': 'a:bodyPr a:lstStyle a:p', 'c:tx': 'c:strRef|c:rich|c:v', 'c:cat': 'c:strRef|c:numRef', 'c:val': 'c:numRef', 'c:xVal': 'c:strRef|c:numRef', 'c:yVal': 'c:numRef', 'c:plus': 'c:numRef', 'c:minus': 'c:numRef',
  'c:strRef': 'c:f c:strCache c:extLst', 'c:numRef': 'c:f c:numCache c:extLst', 'c:numCache': 'c:formatCode c:ptCount c:pt c:extLst', 'c:strCache': 'c:ptCount c:pt c:extLst', 'c:pt': 'c:v', 'c:layout': 'c:manualLayout c:extLst', 'c:majorGridlines': 'c:spPr', 'c:minorGridlines': 'c:spPr',
  'c:spPr': 'a:xfrm a:custGeom a:prstGeom a:noFill|a:solidFill|a:gradFill|a:blipFill|a:pattFill a:ln a:effectLst', 'a:ln': 'a:noFill|a:solidFill|a:gradFill|a:pattFill a:prstDash|a:custDash a:round|a:bevel|a:miter a:headEnd a:tailEnd', 'a:pattFill': 'a:fgClr a:bgClr', 'a:solidFill': 'a:srgbClr', 'a:fgClr': 'a:srgbClr', 'a:bgClr': 'a:srgbClr',
  'a:p': 'a:pPr a:r|a:br|a:fld a:endParaRPr', 'a:pPr': 'a:lnSpc a:spcBef a:spcAft a:defRPr a:extLst', 'a:r': 'a:rPr a:t', 'a:rPr': 'a:ln a:noFill|a:solidFill|a:gradFill a:latin a:ea a:cs', 'a:defRPr': 'a:ln a:noFill|a:solidFill|a:gradFill a:latin a:ea a:cs',
  Relationships: 'Relationship', Types: 'Default|Override',
  'cp:coreProperties': 'dc:creator|cp:lastModifiedBy|dcterms:created|dcterms:modified|dc:title|dc:subject|cp:category|cp:contentStatus|dc:description|dc:identifier|cp:keywords|dc:language|cp:lastPrinted|cp:revision|cp:version',
  Properties: 'Application|DocSecurity|ScaleCrop|HeadingPairs|TitlesOfParts|Manager|Company|LinksUpToDate|SharedDoc|HyperlinksChanged|AppVersion',
  HeadingPairs: 'vt:vector', TitlesOfParts: 'vt:vector', 'vt:vector': 'vt:variant|vt:lpstr', 'vt:variant': 'vt:lpstr|vt:i4',
};
/** Elements that hold text or attributes alone. */
const LEAVES = new Set('workbookPr workbookView sheet definedName calcPr tabColor outlinePr pageSetUpPr dimension pane selection sheetFormatPr col f v t sheetProtection mergeCell formula formula1 formula2 printOptions pageMargins pageSetup oddHeader oddFooter brk drawing numFmt cellStyle b i sz color name family scheme fgColor bgColor alignment protection tableStyles vertical horizontal phoneticPr fileVersion Default Override Relationship Application DocSecurity ScaleCrop Company Manager LinksUpToDate SharedDoc HyperlinksChanged AppVersion'.split(' '));
/** Of the other vocabularies, whose leaves are many, the elements named in the table and no other have an order to keep. */
const CHECKED_WHOLE = /^[A-Za-z]+$/;
/** The theme is the library's own, and no sheet of ours uses it; an extension list may hold anything. */
const UNCHECKED = new Set(['a:theme', 'extLst']);

/** Elements that do not stand where the schema has them. */
export function misplacedElements(root: XmlElement): string[] {
  if (!UNCHECKED.has(root.name) && ORDER[root.name] === undefined) return [`the root ${root.name} is not known`];
  const faults: string[] = [];
  look(root, faults);
  return faults;
}

function look(element: XmlElement, faults: string[]): void {
  if (UNCHECKED.has(element.name)) return;
  const order = ORDER[element.name];
  if (order === undefined) {
    if (element.children.length > 0) faults.push(`${element.name} has children and no order for them is known`);
    else if (CHECKED_WHOLE.test(element.name) && !LEAVES.has(element.name)) faults.push(`${element.name} is not known`);
    return;
  }
  const places = order.split(' ').map((one) => one.split('|'));
  let last = 0;
  for (const child of element.children) {
    const place = places.findIndex((names) => names.includes(child.name));
    if (place < 0) faults.push(`${child.name} does not belong in ${element.name}`);
    else if (place < last) faults.push(`${child.name} stands too late in ${element.name}`);
    last = Math.max(last, place);
    look(child, faults);
  }
}
