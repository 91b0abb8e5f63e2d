import type { CellFormulaValue, CellValue, Worksheet } from 'exceljs';
import { GROUP_FLAGS, type FailRateGroup, type GroupFailRate, type RatePrior } from '../../fleet/group-fail-rate.js';
import { groupFlag } from '../../fleet/group-flag.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { alignCell, colourWhere, styleCell } from '../cell-styles.js';
import { columnRangeName } from '../defined-names.js';
import { distinctFormula } from '../distinct-formula.js';
import { PALETTE } from '../palette.js';
import type { SheetContext } from '../sheet-context.js';
import { writeHeader, writeRow } from '../write-table.js';
import { rateFormulas, type LiveRateColumn, type RatePlace } from './fail-rates-formulas.js';
import { bandHeading } from './fail-rates-heading.js';
import { APART_FROM, isCharted, MORE_THAN_ROWS, NO_ESTIMATES, PARETO_WORKING, RATE_COLUMNS, rateLetters, WHISKER_COLUMNS, type RateColumn } from './fail-rates-places.js';
import { trendCell } from './trend-columns.js';
import { BLANK_MONTHS, TREND_SHEET, TREND_TITLE_ROW } from './trend-sheet.js';

/** The headings of the tables of rates. */
export const RATE_HEADINGS: Readonly<Record<FailRateGroup, string>> = {
  check: 'By check',
  circuit: 'By brake circuit (checks that tell circuits apart)',
  site: 'By site (whole inspections)',
  vehicle_kind: 'By kind of vehicle (whole inspections)',
  inspector: 'By inspector (whole inspections)',
  limit_set: 'By limit set (whole inspections)',
  period: 'By period (whole inspections with a date)',
};

/** What the first column of each table is called. */
const NAME_TITLES: Readonly<Record<FailRateGroup, string>> = { check: 'Check', circuit: 'Brake circuit', site: 'Site', vehicle_kind: 'Kind of vehicle', inspector: 'Inspector', limit_set: 'Limit set', period: 'Period' };

/** Groups by name, of which nothing is known before names are typed. */
const BY_NAME: readonly FailRateGroup[] = ['site', 'inspector'];
/** Rows for sites and for inspectors in a blank workbook. */
const BLANK_ROWS = 12;
/** Bold characters that a line of the first column holds. */
const NAME_WIDTH = 44;
/** Where the mean and the weight stand that estimates are drawn towards, in the row of the heading. */
const [MEAN, WEIGHT] = ['H', 'I'] as const;
/** The same as 0-based columns. */
export const PRIOR_COLUMNS = [7, 8] as const;
/** What stands in a table without a group. */
export const NO_ROWS_WORDS = 'none entered';

/** A row of a table: what it counts; null for a name that a formula gives. */
type Row = Pick<GroupFailRate, 'group'> & Partial<Omit<GroupFailRate, 'group' | 'name'>> & { readonly name: string | null };

/** Writes the table of a group below a row, and gives the first of its rows and how many there are. */
export function writeRates(sheet: Worksheet, group: FailRateGroup, headingRow: number, context: SheetContext): { readonly firstRow: number; readonly rowCount: number } {
  const { plan, fleet, live } = context;
  const rates: readonly Row[] = fleet ? fleet.summary.fail_rates.filter((rate) => rate.group === group) : blankRows(group, plan);
  const firstRow = headingRow + 2;
  writeHeading(sheet, group, headingRow, fleet ? (fleet.summary.priors.find((prior) => prior.group === group) ?? null) : null, fleet === null);
  writeHeader(sheet, headingRow + 1, [{ ...RATE_COLUMNS[0]!, title: NAME_TITLES[group] }, ...RATE_COLUMNS.slice(1)]);
  if (isCharted(group)) writeHeader(sheet, headingRow + 1, WHISKER_COLUMNS, APART_FROM);
  sheet.getRow(headingRow + 1).height = 30;
  for (const [index, rate] of rates.entries()) {
    const row = firstRow + index;
    const named = rate.name === null;
    const place: RatePlace = { group, row, firstRow, lastRow: firstRow + rates.length - 1, mean: `$${MEAN}$${headingRow}`, weight: `$${WEIGHT}$${headingRow}`, named };
    const formulas = live ? rateFormulas(plan, rate.name, place) : null;
    const cell = ({ id }: RateColumn): CellValue => {
      const value = id === 'name' ? rate.name : valueOf(rate, id);
      if (id === 'name') return live && named ? nameFormula(group, row, firstRow) : value;
      const formula = formulas?.[id] ?? null;
      return formula === null ? value : ({ formula, result: value ?? '' } as CellFormulaValue);
    };
    const shown = named ? RATE_COLUMNS.map(withoutZero) : RATE_COLUMNS;
    writeRow(sheet, row, shown, RATE_COLUMNS.map(cell));
    if (isCharted(group)) writeRow(sheet, row, WHISKER_COLUMNS, WHISKER_COLUMNS.map(cell), APART_FROM);
    if ((rate.name?.length ?? 0) > NAME_WIDTH) sheet.getRow(row).height = nameHeight(rate.name!);
  }
  if (!fleet && BY_NAME.includes(group)) sheet.getCell(`B${headingRow}`).value = { formula: moreThanRows(group, firstRow, firstRow + rates.length - 1), result: NO_ESTIMATES };
  mark(sheet, firstRow, rates.length);
  if (rates.length === 0) writeRow(sheet, firstRow, RATE_COLUMNS, [NO_ROWS_WORDS]);
  return { firstRow, rowCount: Math.max(1, rates.length) };
}

/** The height in points of a row with a name that takes several lines; no row can be higher than 409. */
function nameHeight(name: string): number {
  return Math.min(409, 3 + 12.5 * Math.ceil(name.length / NAME_WIDTH));
}

/** Colours that repeat what the flag says. */
function mark(sheet: Worksheet, firstRow: number, rowCount: number): void {
  const cell = `${rateLetters('flag')}${firstRow}`;
  if (rowCount > 0) sheet.addConditionalFormatting({ ref: `${cell}:${rateLetters('flag')}${firstRow + rowCount - 1}`, rules: [colourWhere(`${cell}="${GROUP_FLAGS[0]}"`, PALETTE.fail, 1), colourWhere(`${cell}="${GROUP_FLAGS[1]}"`, PALETTE.recheck, 2)] });
}

/** A count of 0 is not shown in a row that waits for a name. */
function withoutZero(column: RateColumn): RateColumn {
  return column.look?.format === '0' ? { ...column, look: { ...column.look, format: '0;-0;;@' } } : column;
}

/** Writes the heading of a table, and in it what the estimates are drawn towards: the mean, and the weight in tests. */
function writeHeading(sheet: Worksheet, group: FailRateGroup, row: number, prior: RatePrior | null, blank: boolean): void {
  for (const { id } of RATE_COLUMNS) styleCell(sheet.getCell(`${rateLetters(id)}${row}`), { ...PALETTE.band, bold: id === 'name', size: id === 'name' ? 10 : 8, right: id !== 'name' });
  sheet.getCell(`A${row}`).value = RATE_HEADINGS[group];
  if (isCharted(group)) bandHeading(sheet, row, 'Chart data: how far the whiskers reach', APART_FROM, PARETO_WORKING.length);
  if (group === 'limit_set') return;
  sheet.mergeCells(`B${row}:G${row}`);
  const label = sheet.getCell(`B${row}`);
  label.value = blank ? NO_ESTIMATES : prior ? 'estimates are drawn towards (computed on writing):' : 'no estimates: fewer than three groups tested, or nothing in common';
  if (!prior) return;
  const [mean, weight] = [sheet.getCell(`${MEAN}${row}`), sheet.getCell(`${WEIGHT}${row}`)];
  mean.value = prior.mean;
  styleCell(mean, { ...PALETTE.band, bold: true, right: true, format: '0.0 %' });
  weight.value = prior.weight ?? 'all alike, but for chance';
  styleCell(weight, { ...PALETTE.band, bold: true, format: '"weight of "0.0" tests"' });
  alignCell(weight, { ...weight.alignment, horizontal: 'left' });
}

/** Whether inspections stand under names for which a blank workbook has no row. */
function moreThanRows(group: FailRateGroup, firstRow: number, lastRow: number): string {
  const listed = (['tested', 'recheck'] as const).map((id) => `SUM($${rateLetters(id)}$${firstRow}:$${rateLetters(id)}$${lastRow})`).join('+');
  const all = `SUMPRODUCT((${columnRangeName(group)}<>"")*((computed_verdict="pass")+(computed_verdict="fail")+(computed_verdict="recheck")))`;
  return `IF(${listed}<${all},"${MORE_THAN_ROWS}","${NO_ESTIMATES}")`;
}

function valueOf(rate: Row, id: LiveRateColumn): CellValue {
  const { rate: share = null, low = null, high = null } = rate;
  if (id === 'up') return high === null || share === null ? null : high - share;
  if (id === 'down') return low === null || share === null ? null : share - low;
  return rate[id] ?? (id === 'tested' || id === 'failed' || id === 'recheck' ? 0 : null);
}

function nameFormula(group: FailRateGroup, row: number, firstRow: number): CellValue {
  if (group === 'period') return { formula: `${sheetReference(TREND_SHEET, trendCell('period', TREND_TITLE_ROW + 1 + row - firstRow))}&""`, result: '' } as CellFormulaValue;
  return { formula: distinctFormula(columnRangeName(group), `$A$${firstRow - 1}:$A${row - 1}`), shareType: 'array', ref: `A${row}`, result: '' } as unknown as CellFormulaValue;
}

function blankRows(group: FailRateGroup, plan: LimitPlan): Row[] {
  const rows = (names: readonly (string | null)[]): Row[] => names.map((name) => ({ group, name, flag: name === null ? null : groupFlag(group, { tested: 0, failed: 0 }, null) }));
  switch (group) {
    case 'check':
      return rows(plan.checks.filter(({ comparator }) => comparator !== 'no_number').map(({ title }) => title));
    case 'circuit':
      return rows(plan.circuits.map(({ title }) => title));
    case 'vehicle_kind':
      return rows(plan.dictionary.fields.find(({ name }) => name === 'vehicle_kind')?.choices ?? []);
    case 'limit_set':
      return rows(plan.sets.map(({ set }) => set.title));
    default:
      return rows(Array.from({ length: group === 'period' ? BLANK_MONTHS : BLANK_ROWS }, () => null));
  }
}
