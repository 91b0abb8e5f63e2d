import type { CellFormulaValue, CellValue } from 'exceljs';
import type { ChartPart } from '../../formats/xlsx-package/assemble-xlsx.js';
import { chartXml } from '../../formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import { FAIL_RATE_GROUPS, type FailRateGroup, type GroupFailRate } from '../../fleet/group-fail-rate.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { Z_95 } from '../../statistics/wilson-interval.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import { columnRangeName } from '../defined-names.js';
import { distinctFormula } from '../distinct-formula.js';
import { CHART_COLOURS, PALETTE } from '../palette.js';
import { safeText } from '../safe-text.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeHeader, writeRow, writeTitle, type TableColumn } from '../write-table.js';

/** The sheet's name. */
export const FAIL_RATES_SHEET = 'Fail rates';

const HEADINGS: Readonly<Record<FailRateGroup, string>> = {
  check: 'By check',
  vehicle_kind: 'By kind of vehicle (whole inspections)',
  site: 'By site (whole inspections)',
  inspector: 'By inspector (whole inspections)',
};
/** Rows for sites and for inspectors in a blank workbook. */
const BLANK_ROWS = 12;

const number = { right: true, format: '0' } as const;
const percent = { right: true, format: '0.0 %' } as const;
const COLUMNS: readonly TableColumn[] = [
  { title: 'Group', width: 30, look: { bold: true } },
  { title: 'Tested', width: 10, look: number },
  { title: 'Failed', width: 10, look: number },
  { title: 'Recheck', width: 10, look: number },
  { title: 'Fail rate', width: 11, look: { ...percent, bold: true } },
  { title: '95 % interval, from', width: 12, look: percent },
  { title: 'to', width: 12, look: percent },
  { title: 'Rate to upper end', width: 11, look: { ...percent, ink: PALETTE.name.ink } },
  { title: 'Rate to lower end', width: 11, look: { ...percent, ink: PALETTE.name.ink } },
];

/** The columns of a row that waits for a name: a count of 0 is not shown. */
const UNNAMED: readonly TableColumn[] = COLUMNS.map((column) => (column.look === number ? { ...column, look: { ...number, format: '0;-0;;@' } } : column));

/** Lays out the sheet Fail rates: tested, failed, rate and its 95 % Wilson interval, by check, kind, site and inspector. */
export function failRatesSheet({ book, plan, fleet, live }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(FAIL_RATES_SHEET, { views: [{ state: 'frozen', ySplit: 2 }] });
  COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  writeTitle(sheet, 'Fail rates', `Tested counts passes and fails; what could not be decided is counted under Recheck. The interval (Wilson, 95 %) says how far so few tests can be trusted. ${live ? 'Live formulas over Readings.' : 'Values as of writing.'}`, COLUMNS.length);
  sheet.getRow(2).height = 34;
  let row = 2;
  const charts: ChartPart[] = [];
  for (const group of FAIL_RATE_GROUPS) {
    row += 2;
    for (let column = 1; column <= COLUMNS.length; column++) styleCell(sheet.getCell(row, column), { ...PALETTE.band, bold: true });
    sheet.getCell(row, 1).value = HEADINGS[group];
    row += 1;
    writeHeader(sheet, row, COLUMNS);
    sheet.getRow(row).height = 40;
    const first = row + 1;
    const rates = fleet ? fleet.summary.fail_rates.filter((rate) => rate.group === group) : blankRates(group, plan);
    for (const rate of rates) {
      row += 1;
      writeRow(sheet, row, rate.name === '' ? UNNAMED : COLUMNS, live ? liveRow(group, rate, row, first, plan) : valueRow(rate));
    }
    if (rates.length === 0) {
      row += 1;
      writeRow(sheet, row, COLUMNS, ['none entered']);
    }
    if (group === 'check' || group === 'site') charts.push(rateChart(group, rates, first, charts.length));
  }
  setUpPrint(sheet);
  return { charts };
}

function blankRates(group: FailRateGroup, plan: LimitPlan): GroupFailRate[] {
  const nothing = { group, tested: 0, failed: 0, recheck: 0, rate: null, low: null, high: null };
  if (group === 'check') return plan.checks.filter(({ comparator }) => comparator !== 'no_number').map(({ title }) => ({ ...nothing, name: title }));
  if (group === 'vehicle_kind') return (plan.dictionary.fields.find(({ name }) => name === 'vehicle_kind')?.choices ?? []).map((name) => ({ ...nothing, name }));
  return Array.from({ length: BLANK_ROWS }, () => ({ ...nothing, name: '' }));
}

function valueRow(rate: GroupFailRate): CellValue[] {
  const { tested, failed, recheck, rate: share, low, high } = rate;
  return [safeText(rate.name), tested, failed, recheck, share, low, high, difference(high, share), difference(share, low)];
}

function difference(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : a - b;
}

function liveRow(group: FailRateGroup, rate: GroupFailRate, row: number, first: number, plan: LimitPlan): CellValue[] {
  const results = valueRow(rate);
  const formula = (text: string, index: number): CellFormulaValue => ({ formula: text, result: results[index] ?? '' } as CellFormulaValue);
  const name: CellValue =
    rate.name === '' ? ({ formula: distinctFormula(columnRangeName(group), `$A$${first - 1}:$A${row - 1}`), shareType: 'array', ref: `A${row}`, result: '' } as unknown as CellFormulaValue) : (results[0] ?? null);
  const [tested, failed, recheck] = countFormulas(group, rate, row, plan);
  const ifAny = (text: string): string => `IF($B${row}=0,"",${text})`;
  const [z2, n, p] = [Z_95 * Z_95, `$B${row}`, `$E${row}`];
  const centre = `${p}+${z2}/(2*${n})`;
  const half = `${Z_95}*SQRT(${p}*(1-${p})/${n}+${z2}/(4*${n}^2))`;
  return [
    name,
    formula(tested, 1),
    formula(failed, 2),
    formula(recheck, 3),
    formula(ifAny(`$C${row}/$B${row}`), 4),
    formula(ifAny(`IF($C${row}=0,0,MAX(0,(${centre}-${half})/(1+${z2}/${n})))`), 5),
    formula(ifAny(`IF($C${row}=$B${row},1,MIN(1,(${centre}+${half})/(1+${z2}/${n})))`), 6),
    formula(ifAny(`$G${row}-$E${row}`), 7),
    formula(ifAny(`$E${row}-$F${row}`), 8),
  ];
}

function countFormulas(group: FailRateGroup, rate: GroupFailRate, row: number, plan: LimitPlan): [string, string, string] {
  if (group === 'check') {
    const check = plan.checks.find(({ title }) => title === rate.name)!;
    const range = columnRangeName(`computed.${check.check}_check_verdict`);
    return [`COUNTIF(${range},"pass")+COUNTIF(${range},"fail")`, `COUNTIF(${range},"fail")`, `COUNTIF(${range},"recheck")`];
  }
  const counted = (test: string): string => `SUMPRODUCT((${columnRangeName(group)}=$A${row})*(${test}))`;
  const guarded = (text: string): string => (rate.name === '' ? `IF($A${row}="",0,${text})` : text);
  return [guarded(counted('(computed_verdict="pass")+(computed_verdict="fail")')), guarded(counted('computed_verdict="fail"')), guarded(counted('computed_verdict="recheck"'))];
}

function rateChart(group: 'check' | 'site', rates: readonly GroupFailRate[], first: number, ordinal: number): ChartPart {
  const last = first + Math.max(1, rates.length) - 1;
  const range = (letters: string): string => sheetReference(FAIL_RATES_SHEET, `$${letters}$${first}:$${letters}$${last}`);
  const values = rates.map(valueRow);
  const cached = (index: number): (number | null)[] => values.map((row) => row[index] as number | null);
  const highest = Math.max(0, ...rates.map(({ high }) => high ?? 0));
  const title = group === 'check' ? 'Fail rate by check, with 95 % interval' : 'Fail rate by site, with 95 % interval';
  return {
    sheet: FAIL_RATES_SHEET,
    name: title,
    description: `Bars: ${title.toLowerCase()}`,
    anchor: { fromColumn: COLUMNS.length + 1, fromRow: 2 + ordinal * 20, toColumn: COLUMNS.length + 10, toRow: 20 + ordinal * 20 },
    xml: chartXml({
      kind: 'bar',
      horizontal: true,
      title,
      categoryAxisTitle: group === 'check' ? 'Check' : 'Site',
      valueAxisTitle: 'Fail rate',
      valueFormat: '0 %',
      valueMinimum: 0,
      valueMaximum: highest === 0 ? 1 : Math.min(1, Math.ceil(highest * 10 + 0.5) / 10),
      series: [
        {
          title: 'Fail rate',
          categoriesRef: range('A'),
          valuesRef: range('E'),
          cachedCategories: rates.map(({ name }) => name),
          cachedValues: cached(4),
          colour: CHART_COLOURS.mark,
          errorBars: { plusRef: range('H'), minusRef: range('I'), cachedPlus: cached(7), cachedMinus: cached(8) },
        },
      ],
    }),
  };
}
