import type { ChartPart, FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { chartXml } from '../../formats/xlsx-package/chart-xml.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import { CHART_COLOURS, PALETTE } from '../palette.js';
import type { CellLook } from '../cell-styles.js';
import type { TableColumn } from '../write-table.js';
import { CHARTED, UNIT_FORMULAS, type UnitFormula } from './unit-formulas.js';
import { UNITS_FIRST_ROW, UNITS_SHEET, UNITS_TITLE_ROW, unitRange, type UnitPlaces } from './unit-places.js';

/** A column that the chart is drawn from: its rows hold the worst unit, the next, and so on. */
export interface ChartColumn extends TableColumn {
  readonly name: string;
  readonly formula: UnitFormula | null;
}

const look: CellLook = { ...PALETTE.name, size: 8 };
const share: CellLook = { ...look, format: '0 %', right: true };

/** The columns that the chart is drawn from. */
export const CHART_COLUMNS: readonly ChartColumn[] = [
  { name: 'chart_key', title: 'Order of shares', width: 12, look: { ...look, right: true, format: '0.000000000' }, formula: UNIT_FORMULAS.chart_key },
  { name: 'chart_at', title: 'Place in the table', width: 9, look: { ...look, right: true, format: '0' }, formula: UNIT_FORMULAS.chart_at },
  { name: 'chart_unit', title: 'Unit charted', width: 10, look, formula: UNIT_FORMULAS.chart_unit },
  { name: 'chart_within', title: 'within the limit', width: 9, look: share, formula: UNIT_FORMULAS.chart_within },
  { name: 'chart_beyond', title: 'beyond the limit', width: 9, look: share, formula: UNIT_FORMULAS.chart_beyond },
  { name: 'chart_limit', title: 'the limit', width: 9, look: share, formula: null },
];

/**
 * The cells of {@link CHART_COLUMNS}, row by row.
 *
 * @param units in the order of the sheet
 */
export function chartCells(units: readonly { readonly unit: string; readonly share: number | null }[], rowCount: number): FillValue[][] {
  const keys = units.map(({ share: used }, index) => (used === null ? null : used - (index + 1) / 1e9));
  const order = keys.flatMap((key, index) => (key === null ? [] : [{ key, index }])).sort((a, b) => b.key - a.key).slice(0, CHARTED);
  return Array.from({ length: rowCount }, (_, row) => {
    const at = order[row]?.index;
    const limit = row < CHARTED ? 1 : null;
    if (at === undefined) return [keys[row] ?? null, null, null, null, null, limit];
    const { unit, share: used } = units[at]!;
    return [keys[row] ?? null, at + 1, unit, used! > 1 ? null : used, used! > 1 ? used : null, limit];
  });
}

/** The chart of the worst units: bars of the share of the limit that each uses now, and a line at the limit. */
export function worstUnitsChart(places: UnitPlaces, cells: readonly (readonly FillValue[])[], fromColumn: number): ChartPart {
  const shown = Math.min(CHARTED, cells.length);
  const range = (name: string): string => sheetReference(UNITS_SHEET, unitRange({ ...places, lastRow: UNITS_FIRST_ROW + shown - 1 }, name));
  const at = (name: string): number => CHART_COLUMNS.findIndex((column) => column.name === name);
  const cached = (name: string): FillValue[] => cells.slice(0, shown).map((row) => row[at(name)] ?? null);
  const series = (name: string, colour: string, more: { readonly striped?: boolean; readonly line?: boolean } = {}) => ({
    title: CHART_COLUMNS[at(name)]!.title,
    categoriesRef: range('chart_unit'),
    valuesRef: range(name),
    cachedCategories: cached('chart_unit').map((unit) => String(unit ?? '')),
    cachedValues: cached(name) as (number | null)[],
    colour,
    striped: more.striped === true,
    ...(more.line ? { kind: 'line' as const, dash: 'dash' as const, marker: 'none' as const } : {}),
  });
  return {
    sheet: UNITS_SHEET,
    name: 'Worst units',
    description: 'Bars: the units that use the highest share of a leak\'s limit now, worst first; those beyond the limit are striped; the line at 100 % is the limit',
    anchor: { fromColumn, fromRow: UNITS_TITLE_ROW - 1, toColumn: fromColumn + CHART_SPAN, toRow: UNITS_TITLE_ROW + 22 },
    xml: chartXml({
      kind: 'bar',
      overlaid: true,
      hiddenToo: true,
      title: `The ${CHARTED} units that use the most of a leak's limit now`,
      categoryAxisTitle: 'Unit',
      valueAxisTitle: 'Share of the limit used',
      valueFormat: '0 %',
      valueMinimum: 0,
      series: [series('chart_beyond', CHART_COLOURS.mark, { striped: true }), series('chart_within', CHART_COLOURS.bars), series('chart_limit', '404040', { line: true })],
    }),
  };
}

/** Columns that the chart lies over. */
export const CHART_SPAN = 9;
