import { COUNT, DATE, MUTED, type OneUnitCells, type OneUnitColumn } from './one-unit-cells.js';
import type { ShownLoss } from './one-unit-losses.js';
import { LEAST_ROOM, OFF_CHART, ROOM } from './one-unit-places.js';

/** The columns that the charts of the sheet One unit are drawn from. */
export function oneUnitChartColumns(losses: readonly ShownLoss[]): OneUnitColumn[] {
  const part = 'chart';
  const width = 10;
  const [date, loss, count] = [{ ...MUTED, ...DATE }, { ...MUTED, ...losses[0]!.look }, { ...MUTED, ...COUNT }];
  // Rows below the last point repeat it, a limit's at the edge of the chart: a text in their place would be drawn as 0.
  const packed = (id: string, of: string, title: string, toEdge: boolean): OneUnitColumn[] => {
    const upTo = ({ at, all, last }: OneUnitCells): string => `MATCH(MIN(${at('place')},${last(`${id}_count`)}),${all(`${id}_count`)},0)`;
    const day = (cells: OneUnitCells): string => `INDEX(${cells.all('date')},${upTo(cells)})`;
    return [
      { id: `${id}_count`, part, title: `${title}: so far`, width, look: count, formula: ({ down }) => `COUNT(${down(of)})` },
      { id: `${id}_x`, part, title: `${title}: date`, width: 11, look: date, formula: (cells) => `IF(${cells.last(`${id}_count`)}=0,${cells.figure('nowhere')},${toEdge ? `IF(${cells.at('place')}>${cells.last(`${id}_count`)},${cells.last('frame_x')},${day(cells)})` : day(cells)})` },
      { id: `${id}_y`, part, title, width: 11, look: loss, formula: (cells) => `IF(${cells.last(`${id}_count`)}=0,${OFF_CHART},INDEX(${cells.all(of)},${upTo(cells)}))` },
    ];
  };
  const ofDay = (id: string, otherwise: (figure: OneUnitCells['figure']) => string): ((cells: OneUnitCells) => string) => ({ at, all, figure }) => `IF(${figure('days')}=0,${otherwise(figure)},INDEX(${all(id)},MIN(${at('place')},${figure('days')})))`;
  const line = (id: string): ((cells: OneUnitCells) => string) => ({ figure }) => `IF(${figure(id)}="",${OFF_CHART},${figure(id)})`;
  return [
    ...losses.flatMap((one, index) => [...packed(`drawn${index}`, `loss${index}`, one.title, false), ...(one.columns.limit ? packed(`bound${index}`, `limit${index}`, `Limit, ${lowerFirst(one.title)}`, true) : [])]),
    { id: 'control_x', part, title: 'Control chart: date', width: 11, look: date, formula: ofDay('point_date', (figure) => figure('nowhere')) },
    { id: 'control_y', part, title: 'Leading loss', width, look: loss, formula: ofDay('point_loss', () => String(OFF_CHART)) },
    { id: 'control_centre', part, title: 'Centre', width, look: loss, formula: line('centre') },
    { id: 'control_upper', part, title: 'Upper limit', width, look: loss, formula: line('upper') },
    { id: 'cusum_y', part, title: 'CUSUM, high side', width, look: loss, formula: ({ at, all, figure }) => `IF(${figure('decision')}="",${OFF_CHART},INDEX(${all('high')},MIN(${at('place')},${figure('days')})))` },
    { id: 'cusum_limit', part, title: 'CUSUM limit', width, look: loss, formula: line('decision') },
    { id: 'frame_x', part, title: 'Span of the dates', width: 11, look: date, rows: 2, formula: spanOf('date') },
    { id: 'control_frame_x', part, title: 'Span of the control chart', width: 11, look: date, rows: 2, formula: spanOf('point_date') },
    { id: 'frame_y', part, title: 'Foot of the charts', width, look: loss, rows: 2, formula: () => '0' },
  ];
}

/** The first and the last day with room beside them: a program has no good axis for one day alone. */
function spanOf(days: string): (cells: OneUnitCells) => string {
  return ({ all, above, figure }) => {
    const room = `MAX(${LEAST_ROOM},ROUND(${ROOM}*(MAX(${all(days)})-MIN(${all(days)})),0))`;
    const [end, nothing] = above(days) === null ? [`MIN(${all(days)})-${room}`, `MAX(0,${figure('nowhere')}-${LEAST_ROOM})`] : [`MAX(${all(days)})+${room}`, `${figure('nowhere')}+${LEAST_ROOM}`];
    return `IF(COUNT(${all(days)})=0,${nothing},${end})`;
  };
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

