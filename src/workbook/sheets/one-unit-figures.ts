import { COMPARED_DECIMALS } from '../../expressions/operators.js';
import { quoteText } from '../../expressions/formula-part.js';
import type { CellLook } from '../cell-styles.js';
import { COUNTED, OWN, type OneUnitCells } from './one-unit-cells.js';
import type { ShownLoss } from './one-unit-losses.js';
import { DAY_FORMAT, LEAST_CHARTED, MOST_SHOWN } from './one-unit-places.js';

/** A figure of the unit, in a cell of its own. */
export interface OneUnitFigure {
  readonly id: string;
  readonly title: string;
  readonly look: CellLook;
  /** A figure that only other cells need. */
  readonly working?: boolean;
  readonly formula: (cells: OneUnitCells) => string;
}

/** What stands in place of a day where the control chart begins with the first inspection. */
export const FROM_THE_FIRST = 'its first inspection';
/** The fewest losses, in the words of the control chart. */
export const TOO_FEW = 'too few inspections';

const COUNT: CellLook = { format: '0', right: true };
const DATE: CellLook = { format: 'yyyy-mm-dd', right: true };
const WORDS: CellLook = { bold: true, right: true, wrap: true };

/** The figures, from the top. The control chart is that of `src/fleet/control-chart.ts`. `hasShare` tells whether the limit set gives shares of a leak's limit, `fineFormat` is the number format of a loss. */
export function oneUnitFigures(losses: readonly ShownLoss[], hasShare: boolean, fineFormat: string): readonly OneUnitFigure[] {
  const loss: CellLook = { format: fineFormat, right: true };
  const unlessFew = (formula: (cells: OneUnitCells) => string): OneUnitFigure['formula'] => (cells) => `IF(${cells.figure('days')}<${LEAST_CHARTED},"",${formula(cells)})`;
  const ifMoved = (formula: (cells: OneUnitCells) => string): OneUnitFigure['formula'] => (cells) => `IF(N(${cells.figure('sigma')})=0,"",${formula(cells)})`;
  const sigmas = (times: number): OneUnitFigure['formula'] => ({ figure }) => `${times}*${figure('sigma')}`;
  return [
    { id: 'inspections', title: 'Inspections with a date', look: COUNT, formula: ({ figure }) => `IF(${figure('picked')}="",0,SUMPRODUCT(${OWN(figure)}*${COUNTED(figure)}))` },
    { id: 'shown', title: `Shown: the latest, at most ${MOST_SHOWN}`, look: COUNT, formula: ({ figure }) => `MIN(${MOST_SHOWN},${figure('inspections')})` },
    { id: 'leading_title', title: 'Leading loss: the one nearest its limit', look: WORDS, formula: ({ figure }) => `IF(${figure('leading')}="","",CHOOSE(${figure('leading')},${losses.map(({ title }) => quoteText(title)).join(',')}))` },
    { id: 'since', title: 'Charted from the repair of', look: { ...DATE, wrap: true }, formula: ({ all, figure }) => `IF(COUNT(${all('effective')})=0,IF(${figure('leading')}="","",${quoteText(FROM_THE_FIRST)}),MAX(${all('effective')}))` },
    { id: 'days', title: 'Days with that loss since', look: COUNT, formula: ({ last }) => last('day_count') },
    { id: 'centre', title: 'Centre: the mean', look: loss, formula: unlessFew(({ all }) => `IF(SUM(${all('moved')})=0,INDEX(${all('point_loss')},1),AVERAGE(${all('point_loss')}))`) },
    { id: 'mean_moved', title: 'Mean moving range', look: loss, formula: unlessFew(({ all, figure }) => `SUM(${all('moved')})/(${figure('days')}-1)`) },
    { id: 'sigma', title: 'Sigma: mean moving range / 1.128', look: loss, formula: unlessFew(({ figure }) => `${figure('mean_moved')}/1.128`) },
    { id: 'upper', title: 'Upper limit: centre + 3 sigma', look: loss, formula: ifMoved(({ figure }) => `${figure('centre')}+3*${figure('sigma')}`) },
    { id: 'lower', title: 'Lower limit: centre - 3 sigma', look: loss, formula: ifMoved(({ all, figure }) => `IF(MIN(${all('point_loss')})>=0,MAX(0,${figure('centre')}-3*${figure('sigma')}),${figure('centre')}-3*${figure('sigma')})`) },
    { id: 'target', title: 'CUSUM target: mean of the first 4', look: loss, formula: unlessFew(({ all, figure }) => `IF(${figure('sigma')}=0,${figure('centre')},AVERAGE(INDEX(${all('point_loss')},1),INDEX(${all('point_loss')},2),INDEX(${all('point_loss')},3),INDEX(${all('point_loss')},4)))`) },
    { id: 'slack', title: 'CUSUM slack: 0.5 sigma', look: loss, formula: unlessFew(sigmas(0.5)) },
    { id: 'decision', title: 'CUSUM limit: 5 sigma', look: loss, formula: ifMoved(sigmas(5)) },
    { id: 'signal', title: 'Signal of the latest loss', look: WORDS, formula: signal },
    { id: 'share_row', title: 'Latest row with a share', look: COUNT, working: true, formula: ({ all }) => (hasShare ? `IFERROR(LARGE(IF(ISNUMBER(${all('share')}),${all('place')},""),1),"")` : '""') },
    ...losses.flatMap((loss, index): OneUnitFigure[] => [
      { id: `share${index}`, title: `${loss.title}: share then`, look: { format: '0 %', right: true }, working: true, formula: shareThen(loss) },
      { id: `measured${index}`, title: `${loss.title}: last decided`, look: DATE, working: true, formula: ({ all }) => `IF(COUNT(${all(`decided${index}`)})=0,"",MAX(IF(ISNUMBER(${all(`decided${index}`)}),${all('date')},0)))` },
    ]),
    { id: 'leading', title: 'Number of the leading loss', look: COUNT, working: true, formula: (cells) => leading(cells, losses.length) },
    { id: 'nowhere', title: 'Day of what is not drawn', look: { ...DATE, format: DAY_FORMAT }, working: true, formula: ({ all }) => `IF(COUNT(${all('date')})=0,INT(MAX(0,readings_inspected_on)),MAX(${all('date')}))` },
  ];
}

function shareThen({ columns }: ShownLoss): OneUnitFigure['formula'] {
  return ({ all, figure }) => (columns.share === null ? '""' : `IF(${figure('share_row')}="","",INDEX(${columns.share.range},INDEX(${all('position')},${figure('share_row')})))`);
}

/** The number of the loss with the highest share at the latest inspection with one; without any share, of the loss that was decided last. */
function leading({ figure }: OneUnitCells, count: number): string {
  const listed = (id: string): string[] => Array.from({ length: count }, (_, index) => figure(`${id}${index}`));
  const highest = (cells: readonly string[]): string => cells.slice(0, -1).reduceRight((otherwise, cell, index) => `IF(AND(ISNUMBER(${cell}),ROUND(N(${cell}),${COMPARED_DECIMALS})=ROUND(MAX(${cells.join(',')}),${COMPARED_DECIMALS})),${index + 1},${otherwise})`, String(count));
  const [shares, days] = [listed('share'), listed('measured')];
  const first = (cells: readonly string[]): string => (cells.length === 1 ? '1' : highest(cells));
  return `IF(COUNT(${shares.join(',')})>0,${first(shares)},IF(COUNT(${days.join(',')})>0,${first(days)},""))`;
}

function signal({ all, figure }: OneUnitCells): string {
  const at = (id: string): string => `INDEX(${all(id)},${figure('days')})`;
  const above = `ROUND(${at('point_loss')}-${figure('upper')},9)>0`;
  const decision = `${figure('decision')}+1E-12*(${figure('decision')}+ABS(${figure('target')})+${figure('slack')})`;
  const drifts = `MAX(${at('high')},${at('low')})>${decision}`;
  const words =
    `MID(IF(${above},"; one reading far above its own","")&IF(AND(${drifts},${at('high')}>${at('low')}),"; drifting up","")&IF(AND(${drifts},${at('low')}>${at('high')}),"; drifting down","")` +
    `&IF(OR(${above},AND(${drifts},${at('high')}<>${at('low')})),"","; none"),3,100)`;
  return `IF(${figure('leading')}="","",IF(${figure('days')}<${LEAST_CHARTED},${quoteText(TOO_FEW)},IF(${figure('sigma')}=0,"never moved",${words})))`;
}
