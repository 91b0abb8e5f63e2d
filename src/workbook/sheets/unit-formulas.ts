import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { columnRangeName, cellName } from '../defined-names.js';
import { REACHED } from './unit-to-do.js';

/**
 * The live formulas of the sheet Units. `{name}` stands for the cell of a column in the formula's own row, `{name:}` for
 * the whole column, `{name^}` for its title, `{}` for the row above the first.
 */
export interface UnitFormula {
  readonly text: string;
  readonly array: boolean;
}

/** The bars of the chart. */
export const CHARTED = 15;

const plain = (text: string): UnitFormula => ({ text, array: false });
const array = (text: string): UnitFormula => ({ text, array: true });

// A unit is compared by `=`: COUNTIF and MATCH would take `<5` and `K*` for patterns, and `007` and `7` for one number.
const OWN = '(readings_unit={unit})';
const DATED = 'ISNUMBER(readings_inspected_on)';
/** The order of inspections: by day, then by row. */
const ORDER = 'INT(readings_inspected_on)+ROW(readings_unit)/1E7';
const SHARE = 'computed_leak_share';
/** The place among the rows of Readings of the inspection that stands last, or first, in {@link ORDER}. */
const placeOf = (order: string): string => `ROUND(MOD(${order},1)*1E7,0)-ROW(INDEX(readings_unit,1))+1`;
const lastWhere = (test: string): string => placeOf(`LARGE(IF(${OWN}*${DATED}*${test},${ORDER},""),1)`);
const firstWhere = (test: string): string => placeOf(`SMALL(IF(${OWN}*${DATED}*${test},${ORDER},""),1)`);
/** A day in words, `2026-12-04`, in any language of the spreadsheet program. */
export const isoText = (cell: string): string => `YEAR(${cell})&"-"&RIGHT("0"&MONTH(${cell}),2)&"-"&RIGHT("0"&DAY(${cell}),2)`;
const daysText = (cell: string): string => `${cell}&IF(${cell}=1," day"," days")`;

/** The value of a range of Readings at the unit's latest inspection. */
export function ofLatest(range: string): UnitFormula {
  return plain(`IF({latest_at}="","",INDEX(${range},{latest_at}))`);
}

/** The text of an entry column at the unit's latest inspection. */
export function entryOfLatest(range: string): UnitFormula {
  return plain(`IF({latest_at}="","",INDEX(${range},{latest_at})&"")`);
}

/** The choice of an entry column at the unit's latest inspection, in our spelling; blank for a text that is none of the choices. */
export function choiceOfLatest(range: string, choices: readonly string[]): UnitFormula {
  const chosen = choices.reduceRight((otherwise, choice) => `IF(INDEX(${range},{latest_at})="${choice}","${choice}",${otherwise})`, '""');
  return plain(`IF({latest_at}="","",${chosen})`);
}

/** The highest value of a range on any inspection of the unit. */
export function highestOf(range: string): UnitFormula {
  return array(`IFERROR(LARGE(IF(${OWN}*ISNUMBER(${range}),${range},""),1),"")`);
}

/**
 * The day since which a check is open: of its first failure after its last pass.
 *
 * @param check its name in the limit set
 */
export function openSinceOf(check: string): UnitFormula {
  const is = (verdict: string): string => `${OWN}*(${verdictRange(check)}="${verdict}")`;
  const afterLastPass = `(IF(${DATED},${ORDER},0)>MAX(IF(${is('pass')}*${DATED},${ORDER},0)))`;
  // Most checks of most units never failed; counting first saves the rest of the work.
  return array(`IF({failed}=0,"",IF(SUMPRODUCT(${is('fail')})=0,"",IFERROR(INT(SMALL(IF(${is('fail')}*${afterLastPass},readings_inspected_on,""),1)),"")))`);
}

/** The formulas that need the checks of the plan; `columns` are the names of the columns of {@link openSinceOf}, by check. */
export function openFormulas(columns: ReadonlyMap<string, string>): Readonly<Record<'open_checks' | 'open_since' | 'open_at', UnitFormula>> {
  const each = [...columns];
  const [first, last] = [each[0]![1], each.at(-1)![1]];
  const failedOpen = each.map(([check, column]) => `({${column}}<>"")*(${verdictRange(check)}="fail")`).join('+');
  return {
    open_checks: plain(`MID(${each.map(([, column]) => `IF({${column}}="","","; "&{${column}^})`).join('&')},3,1000)`),
    open_since: plain(`IF(COUNT({${first}}:{${last}})=0,"",MIN({${first}}:{${last}}))`),
    open_at: array(`IF({open_since}="","",IFERROR(${lastWhere(`(${failedOpen})`)},""))`),
  };
}

/** The formula of the day on which the next inspection is due; null when the set names no interval. */
export function nextDue({ interval }: LimitPlan): UnitFormula | null {
  if (interval === null) return null;
  const every = cellName(interval.cell.name);
  return plain(`IF({latest_on}="","",${interval.unit === 'months' ? `EDATE({latest_on},${every})` : `{latest_on}+${every}`})`);
}

const RISING = '({trend}="rising")';

/**
 * Whether a repair was noted after the inspection at which an open check failed last; on the day of the repair itself, a
 * retest comes after it.
 *
 * @param repaired the cell of the day of the last repair
 * @param openAt the cell of that inspection's place among the rows of Readings
 */
export function repairedSince(repaired: string, openAt: string): string {
  const day = `INT(INDEX(readings_inspected_on,${openAt}))`;
  return `IF(ISNUMBER(${repaired}),(${repaired}>${day})+(${repaired}=${day})*(INDEX(readings_retest_of,${openAt})="")>0,FALSE)`;
}

/** The formulas that are the same for every limit set. */
export const UNIT_FORMULAS = {
  latest_at: array(`IFERROR(${lastWhere('1')},"")`),
  share_at: array(`IFERROR(${lastWhere(`ISNUMBER(${SHARE})`)},"")`),
  latest_on: plain('IF({latest_at}="","",INT(INDEX(readings_inspected_on,{latest_at})))'),
  share_now: plain(`IF({share_at}="","",INDEX(${SHARE},{share_at}))`),
  share_on: plain('IF({share_at}="","",IF(INT(INDEX(readings_inspected_on,{share_at}))<{latest_on},INT(INDEX(readings_inspected_on,{share_at})),""))'),
  inspections: plain(`SUMPRODUCT(--${OWN})`),
  failed: plain(`SUMPRODUCT(${OWN}*(computed_verdict="fail"))`),
  days_open: plain('IF({open_since}="","",IF(ISNUMBER(counted_to),counted_to-{open_since},""))'),
  overdue_days: plain('IF(OR({next_due}="",NOT(ISNUMBER(counted_to))),"",IF(counted_to>{next_due},counted_to-{next_due},""))'),
  last_repair_on: array(`IFERROR(INT(LARGE(IF(${OWN}*ISNUMBER(readings_repaired_on)*(readings_repaired_on<counted_to+1),readings_repaired_on,""),1)),"")`),
  share_before: array(`IF({last_repair_on}="","",IFERROR(INDEX(${SHARE},${lastWhere(`ISNUMBER(${SHARE})*((readings_inspected_on<{last_repair_on})+(readings_inspected_on>={last_repair_on})*(readings_inspected_on<{last_repair_on}+1)*(readings_retest_of=""))`)}),""))`),
  share_after: array(`IF({last_repair_on}="","",IFERROR(INDEX(${SHARE},${firstWhere(`ISNUMBER(${SHARE})*((readings_inspected_on>={last_repair_on}+1)+(readings_inspected_on>={last_repair_on})*(readings_inspected_on<{last_repair_on}+1)*(readings_retest_of<>""))`)}),""))`),
  to_do: plain(
    `MID(IF({open_since}="","","; open failure, "&${daysText('{days_open}')}&IF(${repairedSince('{last_repair_on}', '{open_at}')},"; repaired, retest it",""))` +
      `&IF(${RISING},IF(ISNUMBER({crosses_on}),"; leak rising, limit reached by "&${isoText('{crosses_on}')},IF({crosses_on}="${REACHED}","; leak rising, may be at its limit now","")),"")` +
      `&IF({overdue_days}="","","; overdue "&${daysText('{overdue_days}')}),3,300)`,
  ),
  urgency: plain(`IF({to_do}="","",IF(ISNUMBER({open_since}),{open_since},IF(${RISING}*ISNUMBER({crosses_on}),1E6+{crosses_on},IF(${RISING}*({crosses_on}="${REACHED}"),1E6,2E6-{overdue_days})))+(ROW({unit})-ROW({}))/1E6)`),
  turn: plain('IF({urgency}="","",RANK({urgency},{urgency:},1))'),
  chart_key: plain('IF(ISNUMBER({share_now}),{share_now}-(ROW({unit})-ROW({}))/1E9,"")'),
  chart_at: plain(`IF(ROW({unit})-ROW({})>MIN(${CHARTED},COUNT({chart_key:})),"",MATCH(LARGE({chart_key:},ROW({unit})-ROW({})),{chart_key:},0))`),
  chart_unit: plain('IF({chart_at}="","",INDEX({unit:},{chart_at}))'),
  chart_within: plain('IF({chart_at}="","",IF(INDEX({share_now:},{chart_at})>1,"",INDEX({share_now:},{chart_at})))'),
  chart_beyond: plain('IF({chart_at}="","",IF(INDEX({share_now:},{chart_at})>1,INDEX({share_now:},{chart_at}),""))'),
} as const;

function verdictRange(check: string): string {
  return columnRangeName(`computed.${check}_check_verdict`);
}
