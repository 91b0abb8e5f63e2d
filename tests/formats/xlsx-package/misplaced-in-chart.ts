import { SaxesParser } from 'saxes';

// The children of each type in the order of ECMA-376 Part 1, annex A.5 (DrawingML charts), typed off from the schema.
const ORDER: Record<string, string> = {
  'c:chartSpace': 'date1904 lang roundedCorners style clrMapOvr pivotSource protection chart spPr txPr externalData printSettings userShapes extLst',
  'c:chart': 'title autoTitleDeleted pivotFmts view3D floor sideWall backWall plotArea legend plotVisOnly dispBlanksAs extLst',
  'c:plotArea': 'layout barChart lineChart scatterChart catAx valAx dTable spPr extLst',
  'c:barChart': 'barDir grouping varyColors ser dLbls gapWidth overlap serLines axId extLst',
  'c:lineChart': 'grouping varyColors ser dLbls dropLines hiLowLines upDownBars marker smooth axId extLst',
  'c:scatterChart': 'scatterStyle varyColors ser dLbls axId extLst',
  'c:ser': 'idx order tx spPr invertIfNegative pictureOptions marker dPt dLbls trendline errBars cat val xVal yVal smooth shape extLst',
  'c:errBars': 'errDir errBarType errValType noEndCap plus minus val spPr extLst',
  'c:catAx': 'axId scaling delete axPos majorGridlines minorGridlines title numFmt majorTickMark minorTickMark tickLblPos spPr txPr crossAx crosses crossesAt auto lblAlgn lblOffset noMultiLvlLbl extLst',
  'c:valAx': 'axId scaling delete axPos majorGridlines minorGridlines title numFmt majorTickMark minorTickMark tickLblPos spPr txPr crossAx crosses crossesAt crossBetween majorUnit minorUnit dispUnits extLst',
  'c:scaling': 'logBase orientation max min extLst',
  'c:title': 'tx layout overlay spPr txPr extLst',
  'c:legend': 'legendPos legendEntry layout overlay spPr txPr extLst',
  'c:legendEntry': 'idx delete txPr extLst',
  'c:marker': 'symbol size spPr extLst',
  'c:txPr': 'bodyPr lstStyle p',
  'c:rich': 'bodyPr lstStyle p',
  'c:strRef': 'f strCache extLst',
  'c:numRef': 'f numCache extLst',
  'c:numCache': 'formatCode ptCount pt extLst',
  'c:strCache': 'ptCount pt extLst',
};

/** The elements of a chart part that do not stand where the schema has them. */
export function misplacedInChart(xml: string): string[] {
  const faults: string[] = [];
  const stack: { name: string; last: number }[] = [];
  const parser = new SaxesParser({ xmlns: true });
  parser.on('opentag', ({ name }) => {
    const parent = stack.at(-1);
    const order = parent && ORDER[parent.name]?.split(' ');
    if (parent && order) {
      const place = order.indexOf(name.replace(/^[ac]:/, ''));
      if (place < parent.last) faults.push(`${name} in ${parent.name}`);
      parent.last = place;
    }
    stack.push({ name, last: 0 });
  });
  parser.on('closetag', () => {
    stack.pop();
  });
  parser.write(xml).close();
  return faults;
}
