import { assembleXlsx, type ChartPart, type DefinedName, type SheetFill } from '../formats/xlsx-package/assemble-xlsx.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { ColumnRole } from '../readings/find-header.js';
import { layOutReadings } from './readings-layout.js';
import type { EvaluatedRows, SheetContext } from './sheet-context.js';
import { SHEETS } from './sheets/index.js';
import { strokesThatFit } from './strokes-that-fit.js';
import { newBook } from './new-book.js';
import { templateOf } from './template-of.js';

/** Up to this many inspections the summary sheets are live formulas; above it they would make a spreadsheet program wait. */
export const MOST_LIVE_INSPECTIONS = 5000;

/** What a workbook is built from. */
export interface BuildOptions {
  readonly plan: LimitPlan;
  /** The evaluated rows; null for a blank workbook. */
  readonly fleet: EvaluatedRows | null;
  readonly fileColumns: readonly ColumnRole[];
  /** Columns without a header that rows ran over into. */
  readonly overflow: number;
  /** Rows of a blank workbook. */
  readonly blankRows: number;
  /** Names of computed columns that are not shown. */
  readonly hidden?: ReadonlySet<string>;
  /** The most rows of readings on one sheet; as many as it holds when left out. */
  readonly rowsPerSheet?: number;
  /** Leaves out every stored result, for a twin that a spreadsheet program is to compute. */
  readonly withoutResults?: boolean;
}

/**
 * Streams the workbook: exceljs lays out every sheet with one template row, and the package assembler streams the rows.
 * The same input gives the same bytes.
 */
export async function* buildWorkbook(options: BuildOptions): AsyncGenerator<Uint8Array, void, undefined> {
  const { plan, rowsPerSheet } = options;
  const fleet = withStrokesThatFit(options.fleet, rowsPerSheet);
  const book = newBook();
  const rowCount = fleet ? Math.max(1, fleet.evaluations.length) : options.blankRows;
  const layout = layOutReadings({ plan, fileColumns: options.fileColumns, overflow: options.overflow, rowCount, rowsPerSheet, ...(options.hidden ? { hidden: options.hidden } : {}) });
  const live = fleet === null || (fleet.evaluations.length <= MOST_LIVE_INSPECTIONS && layout.parts.length === 1 && countsAll(fleet));
  const context: SheetContext = { book, plan, layout, fleet, live, mostLines: rowsPerSheet };
  const fills: SheetFill[] = [];
  const charts: ChartPart[] = [];
  const definedNames: DefinedName[] = [];
  for (const build of SHEETS) {
    const parts = build(context);
    if (parts.fill) fills.push(parts.fill, ...(parts.continued ?? []));
    charts.push(...(parts.charts ?? []));
    definedNames.push(...(parts.definedNames ?? []));
  }
  const template = await templateOf(book);
  yield* assembleXlsx({ template, fills, charts, definedNames, withoutResults: options.withoutResults });
}

function withStrokesThatFit(fleet: EvaluatedRows | null, most: number | undefined): EvaluatedRows | null {
  return fleet?.strokes ? { ...fleet, strokes: strokesThatFit(fleet.strokes, most) } : fleet;
}

/** Formulas count every inspection on Readings, so that they cannot stand for a period. */
function countsAll({ asOf, summary: { period } }: EvaluatedRows): boolean {
  return asOf === null && period.from === null && period.to === null;
}
