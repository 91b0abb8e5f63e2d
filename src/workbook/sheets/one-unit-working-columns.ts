import { COUNT, COUNTED, DATE, inReadings, LOSS, MUTED, OWN, type OneUnitCells, type OneUnitColumn } from './one-unit-cells.js';
import type { ShownLoss } from './one-unit-losses.js';
import { MOST_REPAIRS } from './one-unit-places.js';

/** The columns of the sheet One unit in which its control chart is worked out. */
export function oneUnitWorkingColumns(losses: readonly ShownLoss[]): OneUnitColumn[] {
  const part = 'working';
  const count = { ...MUTED, ...COUNT } as const;
  const loss = { ...MUTED, ...LOSS } as const;
  const date = { ...MUTED, ...DATE } as const;
  const width = 10;
  const choose = ({ figure }: OneUnitCells, each: readonly string[]): string => `CHOOSE(${figure('leading')},${each.join(',')})`;
  const ofLeading = (each: (loss: ShownLoss, index: number, cells: OneUnitCells) => string): ((cells: OneUnitCells) => string) => (cells) =>
    `IF(OR(${cells.figure('leading')}="",${cells.at('position')}=""),"",${choose(cells, losses.map((one, index) => each(one, index, cells)))})`;
  return [
    { id: 'place', part, title: 'Row shown', width, look: count, formula: null },
    {
      id: 'order',
      part,
      title: 'Day and row, in order',
      width: 13,
      look: { ...MUTED, format: '0.0000000', right: true },
      formula: ({ at, figure }) => `IF(${at('place')}>${figure('shown')},"",LARGE(IF(${OWN(figure)}*${COUNTED(figure)},INT(readings_inspected_on)+ROW(readings_unit)/1E7,""),${figure('shown')}-${at('place')}+1))`,
    },
    { id: 'position', part, title: 'Row among the readings', width, look: count, formula: ({ at }) => `IF(${at('order')}="","",ROUND(MOD(${at('order')},1)*1E7,0)-ROW(INDEX(readings_unit,1))+1)` },
    ...losses.map((one, index): OneUnitColumn => ({ id: `decided${index}`, part, title: `${one.title}, if decided`, width: 11, look: loss, formula: decided(one, index) })),
    { id: 'leading_loss', part, title: 'Leading loss, if decided', width: 11, look: loss, formula: ofLeading((_, index, { at }) => at(`decided${index}`)) },
    { id: 'leading_limit', part, title: 'its limit', width, look: loss, formula: ofLeading(({ columns, divisor }, index, { at }) => (columns.limit ? (divisor === null ? at(`limit${index}`) : inReadings(columns.limit.range, at)) : '""')) },
    { id: 'leading_u', part, title: 'its standard uncertainty', width, look: loss, formula: ofLeading(({ columns }, _, { at }) => (columns.uncertainty ? inReadings(columns.uncertainty.range, at) : '""')) },
    { id: 'retest', part, title: 'Retest (1)', width, look: count, formula: ({ at }) => `IF(${at('position')}="","",IF(${inReadings('readings_retest_of', at)}="",0,1))` },
    {
      id: 'repair',
      part,
      title: 'Repairs, the latest first',
      width: 11,
      look: date,
      rows: MOST_REPAIRS,
      formula: ({ above, figure }) => {
        const before = above('repair');
        return `IF(${before ?? figure('picked')}="","",IFERROR(INT(LARGE(IF(${OWN(figure)}*ISNUMBER(readings_repaired_on)${before === null ? '' : `*(readings_repaired_on<${before})`},readings_repaired_on,""),1)),""))`;
      },
    },
    { id: 'before', part, title: 'Last row before', width, look: count, rows: MOST_REPAIRS, formula: around('LARGE', ({ all, at }) => `(${all('date')}<${at('repair')})+(${all('date')}=${at('repair')})*(${all('retest')}=0)`) },
    { id: 'after', part, title: 'First row after', width, look: count, rows: MOST_REPAIRS, formula: around('SMALL', ({ all, at }) => `(${all('date')}>${at('repair')})+(${all('date')}=${at('repair')})*(${all('retest')}=1)`) },
    { id: 'drop', part, title: 'Loss fell by', width, look: loss, rows: MOST_REPAIRS, formula: ({ at, all }) => `IF(OR(${at('before')}="",${at('after')}=""),"",INDEX(${all('leading_loss')},${at('before')})-INDEX(${all('leading_loss')},${at('after')}))` },
    { id: 'effective', part, title: 'Repair that took effect', width: 11, look: date, rows: MOST_REPAIRS, formula: effective },
    {
      id: 'charted',
      part,
      title: 'Loss since that repair',
      width,
      look: loss,
      formula: ({ at, figure }) => `IF(ISNUMBER(${at('leading_loss')}),IF(ISNUMBER(${figure('since')}),IF((${at('date')}>${figure('since')})+(${at('date')}=${figure('since')})*(${at('retest')}=1)>0,${at('leading_loss')},""),${at('leading_loss')}),"")`,
    },
    {
      id: 'median',
      part,
      title: 'Median of the day, on its last row',
      width: 11,
      look: loss,
      formula: ({ at, all }) => `IF(ISNUMBER(${at('charted')}),IF(SUM((${all('date')}=${at('date')})*ISNUMBER(${all('charted')})*(${all('place')}>${at('place')}))>0,"",MEDIAN(IF(${all('date')}=${at('date')},${all('charted')},""))),"")`,
    },
    { id: 'day_count', part, title: 'Days so far', width, look: count, formula: ({ down }) => `COUNT(${down('median')})` },
    { id: 'found', part, title: 'Row of the day', width, look: count, formula: ({ at, all, figure }) => `IF(${at('place')}>${figure('days')},"",MATCH(${at('place')},${all('day_count')},0))` },
  ];
}

function decided({ columns, divisor }: ShownLoss, index: number): (cells: OneUnitCells) => string {
  return ({ at }) => {
    const loss = divisor === null ? at(`loss${index}`) : inReadings(columns.value!.range, at);
    const number = `IF(ISNUMBER(${loss}),ROUND(${loss},9),"")`;
    if (columns.verdict === null) return divisor === null ? number : `IF(${at('position')}="","",${number})`;
    const verdict = inReadings(columns.verdict.range, at);
    return `IF(${at('position')}="","",IF((${verdict}="pass")+(${verdict}="fail")>0,${number},""))`;
  };
}

function around(which: 'LARGE' | 'SMALL', side: (cells: OneUnitCells) => string): (cells: OneUnitCells) => string {
  return (cells) => `IF(${cells.at('repair')}="","",IFERROR(${which}(IF(ISNUMBER(${cells.all('leading_loss')})*(${side(cells)}),${cells.all('place')},""),1),""))`;
}

/** The day of the repair, where the loss fell by more than its gauge explains; see `tookEffect`. */
function effective({ at, all }: OneUnitCells): string {
  const [drop, before, after] = [at('drop'), at('before'), at('after')];
  const [u1, u2] = [`INDEX(${all('leading_u')},${before})`, `INDEX(${all('leading_u')},${after})`];
  const beyondTenth = (row: string, otherwise: string): string => `IF(ISNUMBER(INDEX(${all('leading_limit')},${row})),ROUND(${drop}-0.1*INDEX(${all('leading_limit')},${row}),6)>=0,${otherwise})`;
  const beyondGauge = `ROUND(${drop}-1.645*SQRT(${u1}^2+${u2}^2),6)>0`;
  return `IF(${drop}="","",IF(IF(COUNT(${u1},${u2})=2,${beyondGauge},AND(${drop}>0,${beyondTenth(after, beyondTenth(before, 'TRUE'))})),${at('repair')},""))`;
}
