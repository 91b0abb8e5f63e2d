import type { CellFormulaValue, CellValue, Worksheet } from 'exceljs';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import type { SetPart } from '../../limits/set-parts.js';
import type { Verdict } from '../../limits/verdict.js';
import { isoDateToSerial } from '../../readings/date-serial.js';
import { columnLetters } from '../../util/column-letters.js';
import { borderLines } from '../border-lines.js';
import { borderUnits, type BorderUnit } from '../border-units.js';
import { colourVerdicts, setUpPrint, styleCell, type CellLook } from '../cell-styles.js';
import { columnRangeName } from '../defined-names.js';
import { distinctFormula } from '../distinct-formula.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import type { FormulaText } from '../text-formula.js';
import { wrappedHeight, writeHeader, writeTitle, type TableColumn } from '../write-table.js';

/** The sheet's name. */
export const BORDERS_SHEET = 'Borders';
/** Rows for units in a blank workbook. */
const BLANK_UNITS = 60;
/** Width of the columns that hold a set's verdicts, and its limits in words. */
const SET_WIDTH = 34;
const COUNTED: readonly Verdict[] = ['pass', 'fail', 'recheck', 'not tested'];
const UNITS_WORDS = 'Units: the latest inspection of each, under each authority';

/** The row of the titles of its table of units. */
export function bordersTitleRow({ sets }: Pick<LimitPlan, 'sets'>): number {
  return 4 + sets.length + 3;
}

/** Lays out the sheet Borders, where several limit sets are held against one fleet. */
export function bordersSheet(context: SheetContext): SheetParts {
  if (context.plan.sets.length < 2) return {};
  const sheet = context.book.addWorksheet(BORDERS_SHEET, { views: [{ state: 'frozen', xSplit: 1, ySplit: 2 }] });
  const writer = new BordersWriter(sheet, context);
  writer.glance();
  writer.units();
  writer.checks();
  setUpPrint(sheet, { titleRows: '1:2', titleColumns: 'A:A' });
  sheet.pageSetup.printArea = `A$1:${columnLetters(writer.across - 1)}$${writer.lastRow}`;
  void sheet.protect('', { selectLockedCells: true, selectUnlockedCells: true, formatColumns: true, formatRows: true });
  return {};
}

class BordersWriter {
  /** Columns that are seen; behind them stands one for the sheet's own use. */
  readonly across: number;
  lastRow = 2;
  private readonly sets: readonly SetPart[];
  private readonly units_: readonly BorderUnit[];
  /** Row of the first unit, and how many rows there are for units. */
  private readonly firstUnit: number;
  private readonly unitRows: number;

  constructor(
    private readonly sheet: Worksheet,
    private readonly context: SheetContext,
  ) {
    const { plan, fleet } = context;
    this.sets = plan.sets;
    this.units_ = fleet ? borderUnits(plan, fleet) : [];
    this.unitRows = fleet ? Math.max(1, this.units_.length) : BLANK_UNITS;
    this.across = 4 + this.sets.length;
    this.firstUnit = bordersTitleRow(plan) + 1;
    writeTitle(sheet, 'Borders', `${this.sets.map(({ label }) => label).join(', ')}: which units pass under one and fail under another, and where the limits differ. The first is the main set; a unit's whole verdict fails where any of them fails it.`, this.across);
    sheet.getRow(2).height = 30;
    const widths = [22, 12, 12, ...this.sets.map(() => SET_WIDTH), 62];
    widths.forEach((width, index) => (sheet.getColumn(index + 1).width = width));
  }

  /** How many units stand how under each authority. */
  glance(): void {
    const titles = ['Authority', ...COUNTED.map((verdict) => `Units: ${verdict}`)];
    const columns: TableColumn[] = titles.map((title) => ({ title, width: 12 }));
    this.heading(3, 'At a glance');
    writeHeader(this.sheet, 4, columns);
    this.sheet.getRow(4).height = 30;
    for (const [index, set] of this.sets.entries()) {
      const row = 5 + index;
      const range = this.unitRange(3 + index);
      this.put(row, 0, set.label, { bold: true, line: true, wrap: true });
      for (const [at, verdict] of COUNTED.entries()) {
        const result = this.units_.filter((unit) => unit.verdicts[index] === verdict).length;
        this.put(row, 1 + at, this.formula(`SUMPRODUCT(--(${range}="${verdict}"))`, result), { line: true, centre: true });
      }
      this.sheet.getRow(row).height = Math.max(15, wrappedHeight([set.label], [{ title: '', width: 22 }]));
    }
  }

  /** One row per unit: its latest verdict under each authority. */
  units(): void {
    const titleRow = this.firstUnit - 1;
    this.heading(titleRow - 1, UNITS_WORDS);
    const titles = ['Unit', 'Latest inspection', 'Whole verdict', ...this.sets.map(({ label }) => label), 'Where the sets disagree'];
    writeHeader(this.sheet, titleRow, [...titles, 'Row of latest inspection'].map((title) => ({ title, width: 12 })));
    this.sheet.getRow(titleRow).height = 30;
    this.sheet.getColumn(this.across + 1).width = 9;
    for (let index = 0; index < this.unitRows; index++) this.unit(this.firstUnit + index, this.units_[index] ?? null);
    const last = this.firstUnit + this.unitRows - 1;
    colourVerdicts(this.sheet, `C${this.firstUnit}:${columnLetters(2 + this.sets.length)}${last}`);
    this.lastRow = last;
  }

  private unit(row: number, unit: BorderUnit | null): void {
    const at = `$${columnLetters(this.across)}${row}`;
    const ofLatest = (column: string): string => `IF(${at}="","",INDEX(${columnRangeName(column)},${at}))`;
    const blank = this.context.fleet === null;
    this.put(row, 0, blank ? this.array(`A${row}`, distinctFormula('readings_unit', `$A$${this.firstUnit - 1}:$A${row - 1}`), '') : (unit?.unit ?? null), { bold: true, line: true, format: '@' });
    this.put(row, 1, this.formula(`IF(${at}="","",INT(INDEX(readings_inspected_on,${at})))`, unit?.on == null ? '' : isoDateToSerial(unit.on)), { line: true, centre: true, format: 'yyyy-mm-dd' });
    this.put(row, 2, this.formula(ofLatest('computed.verdict'), unit?.verdict ?? ''), { line: true, centre: true });
    for (const [index, { set }] of this.sets.entries()) this.put(row, 3 + index, this.formula(ofLatest(`computed.${set.id.replaceAll('-', '_')}_verdict`), unit?.verdicts[index] ?? ''), { line: true, centre: true });
    this.put(row, 3 + this.sets.length, this.formula(ofLatest('computed.where_the_sets_disagree'), unit?.disagreement ?? ''), { line: true, wrap: true, top: true });
    const order = 'INT(readings_inspected_on)+ROW(readings_unit)/1E7';
    const latest = `ROUND(MOD(LARGE(IF((readings_unit=$A${row})*ISNUMBER(readings_inspected_on),${order},""),1),1)*1E7,0)-ROW(INDEX(readings_unit,1))+1`;
    this.put(row, this.across, this.array(`${columnLetters(this.across)}${row}`, `IF($A${row}="","",IFERROR(${latest},""))`, unit?.latest ?? ''), { ...PALETTE.name, size: 8, right: true });
    this.sheet.getRow(row).height = wrappedHeight([unit?.disagreement ?? ''], [{ title: '', width: 62 }]);
  }

  /** The limits side by side. */
  checks(): void {
    const top = this.lastRow + 2;
    this.heading(top, 'The checks side by side: each limit as it stands on the sheet Limits, with its citation');
    const columns: TableColumn[] = ['Measure', 'Do they differ?', '', ...this.sets.map(({ label }) => label)].map((title) => ({ title, width: 12 }));
    writeHeader(this.sheet, top + 1, columns);
    this.sheet.mergeCells(`B${top + 1}:C${top + 1}`);
    this.sheet.getRow(top + 1).height = 30;
    let row = top + 1;
    for (const line of borderLines(this.context.plan)) {
      row += 1;
      this.put(row, 0, line.measure, { bold: true, line: true, wrap: true, top: true });
      this.put(row, 1, this.words(line.difference), { line: true, wrap: true, top: true, bold: true, size: 9 });
      styleCell(this.sheet.getCell(row, 3), { line: true });
      this.sheet.mergeCells(`B${row}:C${row}`);
      for (const [index, limit] of line.limits.entries()) this.put(row, 3 + index, this.words(limit), { line: true, wrap: true, top: true, size: 9 });
      this.sheet.getRow(row).height = wrappedHeight([line.measure, line.difference.text, ...line.limits.map(({ text }) => text)], [{ title: '', width: 20 }, { title: '', width: 22 }, ...this.sets.map(() => ({ title: '', width: SET_WIDTH + 5 }))]);
    }
    this.lastRow = row;
  }

  /** Words whose numbers stand on the sheet Limits: a changed limit changes them. */
  private words({ text, formula }: FormulaText): CellValue {
    return formula === null ? text : ({ formula, result: text } as CellFormulaValue);
  }

  private heading(row: number, words: string): void {
    for (let column = 1; column <= this.across; column++) styleCell(this.sheet.getCell(row, column), { ...PALETTE.band, bold: true });
    this.sheet.getCell(row, 1).value = words;
  }

  private put(row: number, column: number, value: CellValue, look: CellLook): void {
    const cell = this.sheet.getCell(row, column + 1);
    cell.value = value;
    styleCell(cell, look);
  }

  /** A live formula with its result; above the most live inspections, the result alone. */
  private formula(formula: string, result: number | string | null): CellValue {
    if (this.context.live) return { formula, result: result ?? '' } as CellFormulaValue;
    return result === '' ? null : result;
  }

  private array(ref: string, formula: string, result: number | string): CellValue {
    if (this.context.live) return { formula, result, shareType: 'array', ref } as unknown as CellFormulaValue;
    return result === '' ? null : result;
  }

  private unitRange(column: number): string {
    const letters = columnLetters(column);
    return `$${letters}$${this.firstUnit}:$${letters}$${this.firstUnit + this.unitRows - 1}`;
  }
}
