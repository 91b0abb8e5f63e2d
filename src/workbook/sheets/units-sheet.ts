import type { CellFormulaValue, CellValue } from 'exceljs';
import type { ChartPart, FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { chartXml } from '../../formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import type { UnitSummary } from '../../fleet/summary.js';
import { LEAK_SHARE } from '../../limits/overall-trees.js';
import { isoDateToSerial } from '../../readings/date-serial.js';
import { columnLetters } from '../../util/column-letters.js';
import { colourVerdicts, setUpPrint, styleCell, type CellLook } from '../cell-styles.js';
import { CHART_COLOURS, PALETTE } from '../palette.js';
import { distinctFormula } from '../distinct-formula.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeHeader, writeTitle, type TableColumn } from '../write-table.js';

/** The sheet's name. */
export const UNITS_SHEET = 'Units';

const FIRST_ROW = 4;
/** Rows for units in a blank workbook. */
const BLANK_UNITS = 60;
const CHARTED = 15;

interface UnitColumn extends TableColumn {
  readonly value: (unit: UnitSummary) => FillValue;
  /** The live formula, over the unit in column A; `{row}` stands for the row. Null where a value stands. */
  readonly formula: string | null;
  readonly array?: boolean;
  /** The formula in a blank workbook, where nothing is known yet. */
  readonly blankFormula?: string;
}

const own = 'readings_unit=$A{row}';
const ofLatest = (range: string): string => `IF($E{row}="","",LOOKUP(2,1/((${own})*(readings_inspected_on=$E{row})),${range}))`;
const worst = (range: string): string => `IF(COUNT(IF(${own},${range}))=0,"",MAX(IF(${own},${range})))`;
const shared = `(${own})*ISNUMBER(computed_leak_share)`;
const shareNow = `IFERROR(LOOKUP(2,1/(${shared}*(readings_inspected_on=MAX(IF(${shared},readings_inspected_on)))),computed_leak_share),"")`;
const share: CellLook = { format: '0 %', right: true };
const loss: CellLook = { format: '0.0', right: true };
const count: CellLook = { format: '0', right: true };

/** The columns of the sheet, from the left. */
const COLUMNS: readonly UnitColumn[] = [
  { title: 'Unit', width: 12, look: { bold: true, format: '@' }, value: ({ unit }) => unit, formula: null },
  { title: 'Kind', width: 10, value: ({ vehicle_kind }) => vehicle_kind, formula: null, blankFormula: `${ofLatest('readings_vehicle_kind')}&""` },
  { title: 'Site', width: 16, value: ({ site }) => site, formula: null, blankFormula: `${ofLatest('readings_site')}&""` },
  { title: 'Latest verdict', width: 12, look: { centre: true }, value: ({ latest_verdict }) => latest_verdict, formula: ofLatest('computed_verdict') },
  {
    title: 'Latest inspection',
    width: 12,
    look: { format: 'yyyy-mm-dd', centre: true },
    value: ({ latest_on }) => (latest_on === null ? null : isoDateToSerial(latest_on)),
    formula: `IF(COUNT(IF(${own},readings_inspected_on))=0,"",MAX(IF(${own},readings_inspected_on)))`,
    array: true,
  },
  { title: 'Worst share of a leak\'s limit now', width: 12, look: { ...share, bold: true }, value: ({ share_now }) => share_now, formula: shareNow, array: true },
  { title: 'Worst share ever', width: 10, look: share, value: ({ worst_share }) => worst_share, formula: worst('computed_leak_share'), array: true },
  { title: 'Latest released loss (psi/min)', width: 11.5, look: loss, value: (unit) => unit.latest_released_loss, formula: ofLatest('computed_released_loss') },
  { title: 'Worst released loss (psi/min)', width: 11.5, look: loss, value: (unit) => unit.worst_released_loss, formula: worst('computed_released_loss'), array: true },
  { title: 'Latest applied loss (psi/min)', width: 11.5, look: loss, value: (unit) => unit.latest_applied_loss, formula: ofLatest('computed_applied_loss') },
  { title: 'Worst applied loss (psi/min)', width: 11.5, look: loss, value: (unit) => unit.worst_applied_loss, formula: worst('computed_applied_loss'), array: true },
  { title: 'Inspections', width: 11, look: count, value: ({ inspections }) => inspections, formula: `SUMPRODUCT(--(${own}))` },
  { title: 'Failed', width: 9, look: count, value: ({ failed }) => failed, formula: `SUMPRODUCT((${own})*(computed_verdict="fail"))` },
];

/** Lays out the sheet Units: one row per unit, the highest share of a leak's limit first. */
export function unitsSheet(context: SheetContext): SheetParts {
  const { book, fleet, live, plan } = context;
  const units = fleet?.summary.units ?? [];
  const rowCount = fleet ? Math.max(1, units.length) : BLANK_UNITS;
  const sheet = book.addWorksheet(UNITS_SHEET, { views: [{ state: 'frozen', xSplit: 1, ySplit: FIRST_ROW - 1 }] });
  COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  const explanation = live
    ? 'One row per unit; the one that uses the highest share of a leak\'s limit now stands first (now: at its latest inspection with a leak test). Live formulas over Readings. 100 % is the limit.'
    : 'One row per unit; the one that uses the highest share of a leak\'s limit now stands first (now: at its latest inspection with a leak test). Values as of writing. 100 % is the limit.';
  writeTitle(sheet, 'Units', explanation, COLUMNS.length);
  sheet.getRow(2).height = 20;
  writeHeader(sheet, FIRST_ROW - 1, COLUMNS);
  sheet.getRow(FIRST_ROW - 1).height = 48;
  const hasShare = plan.columns.some(({ id }) => id === LEAK_SHARE);
  COLUMNS.forEach((column, index) => {
    const cell = sheet.getCell(`${columnLetters(index)}${FIRST_ROW}`);
    styleCell(cell, { line: true, ...column.look });
    cell.value = templateValue(column, index, cell.address, { live, blank: fleet === null, hasShare });
  });
  const lastRow = FIRST_ROW + rowCount - 1;
  colourVerdicts(sheet, `D${FIRST_ROW}:D${lastRow}`);
  markBeyondLimit(sheet, `F${FIRST_ROW}:F${lastRow}`);
  sheet.autoFilter = `A${FIRST_ROW - 1}:${columnLetters(COLUMNS.length - 1)}${lastRow}`;
  setUpPrint(sheet, { titleRows: `1:${FIRST_ROW - 1}` });
  const rows: FillValue[][] = fleet ? units.map((unit) => COLUMNS.map((column) => column.value(unit))) : Array.from({ length: BLANK_UNITS }, () => COLUMNS.map(() => null));
  if (rows.length === 0) rows.push(COLUMNS.map(() => null));
  return { fill: { sheet: UNITS_SHEET, templateRow: FIRST_ROW, count: rows.length, rows }, charts: [worstUnitsChart(units, rowCount)] };
}

function templateValue(column: UnitColumn, index: number, address: string, state: { live: boolean; blank: boolean; hasShare: boolean }): CellValue {
  if (!state.live) return null;
  if (state.blank && index === 0) return arrayFormula(distinctFormula('readings_unit', `$A$${FIRST_ROW - 1}:$A${FIRST_ROW - 1}`), address);
  let formula = state.blank ? (column.blankFormula ?? column.formula) : column.formula;
  if (formula === null || (formula.includes('leak_share') && !state.hasShare)) return null;
  formula = formula.replaceAll('{row}', String(FIRST_ROW));
  if (state.blank) formula = `IF($A${FIRST_ROW}="","",${formula})`;
  return column.array ? arrayFormula(formula, address) : { formula, result: 0 };
}

function arrayFormula(formula: string, ref: string): CellValue {
  return { formula, shareType: 'array', ref, result: 0 } as unknown as CellFormulaValue;
}

function markBeyondLimit(sheet: ReturnType<SheetContext['book']['addWorksheet']>, ref: string): void {
  sheet.addConditionalFormatting({
    ref,
    rules: [
      {
        type: 'expression',
        priority: 10,
        formulae: [`AND(ISNUMBER(${ref.split(':')[0]}),${ref.split(':')[0]}>1)`],
        style: { fill: { type: 'pattern', pattern: 'solid', bgColor: { argb: PALETTE.fail.fill } }, font: { color: { argb: PALETTE.fail.ink }, bold: true } },
      },
    ],
  });
}

function worstUnitsChart(units: readonly UnitSummary[], rowCount: number): ChartPart {
  const shown = Math.min(CHARTED, rowCount);
  const last = FIRST_ROW + shown - 1;
  const top = units.slice(0, shown);
  return {
    sheet: UNITS_SHEET,
    name: 'Worst units',
    description: 'Bars: the units that use the highest share of a leak\'s limit now, worst first; 100 % is the limit',
    anchor: { fromColumn: COLUMNS.length + 1, fromRow: 2, toColumn: COLUMNS.length + 8, toRow: 30 },
    xml: chartXml({
      kind: 'bar',
      horizontal: true,
      title: 'Share of a leak\'s limit used now (100 % is the limit)',
      categoryAxisTitle: 'Unit',
      valueAxisTitle: 'Share of the limit used',
      valueFormat: '0 %',
      valueMinimum: 0,
      series: [
        {
          title: 'Share of a leak\'s limit used now',
          categoriesRef: sheetReference(UNITS_SHEET, `$A$${FIRST_ROW}:$A$${last}`),
          valuesRef: sheetReference(UNITS_SHEET, `$F$${FIRST_ROW}:$F$${last}`),
          cachedCategories: Array.from({ length: shown }, (_, index) => top[index]?.unit ?? ''),
          cachedValues: Array.from({ length: shown }, (_, index) => top[index]?.share_now ?? null),
          colour: CHART_COLOURS.bars,
        },
      ],
    }),
  };
}
