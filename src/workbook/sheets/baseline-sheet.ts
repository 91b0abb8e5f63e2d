import type { Worksheet } from 'exceljs';
import type { BaselineComparison } from '../../fleet/baseline-comparison.js';
import type { ShownIn } from '../../limits/shown-pressure.js';
import { columnLetters } from '../../util/column-letters.js';
import { alignCell, setUpPrint, styleCell, type CellLook } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { EvaluatedRows, SheetContext, SheetParts } from '../sheet-context.js';
import { writeTitle } from '../write-table.js';
import { baselineChart } from './baseline-chart.js';
import { BASELINE_CHART_DATA, BASELINE_COLUMNS, NOW, THEN } from './baseline-columns.js';
import { baselineFacts } from './baseline-facts.js';
import { BASELINE_DATA_FROM, baselineLetters, VERDICT_LOOKS, writeBaselineRates, writeBaselineRatesHeader } from './baseline-rates.js';
import { baselineHeadline, baselineNotes, shownMedian } from './baseline-words.js';

/** The sheet's name. */
export const BASELINE_SHEET = 'Baseline';

const HEADLINE_ROW = 3;
const FACTS_ROW = 5;
const ACROSS = BASELINE_COLUMNS.length;
const LAST = columnLetters(ACROSS - 1);
/** The columns of one side, for what is written over them. */
const SIDES = { then: ['B', 'G'], now: ['H', 'M'] } as const;
/** Characters that a line across the sheet holds. */
const LINE = 205;

/** Lays out the sheet Baseline, where a baseline was given: whether the fleet is better than it, what is set beside what, then rates and medians. */
export function baselineSheet({ book, plan, fleet }: SheetContext): SheetParts {
  const comparison = fleet?.baseline ?? null;
  if (!fleet || !comparison) return {};
  const sheet = book.addWorksheet(BASELINE_SHEET, { views: [{ state: 'frozen', ySplit: 2 }] });
  BASELINE_COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  BASELINE_CHART_DATA.forEach(({ width }, index) => (sheet.getColumn(BASELINE_DATA_FROM + index + 1).width = width));
  writeTitle(sheet, 'Baseline: then and now', explanation(fleet), ACROSS);
  sheet.getRow(2).height = 34;
  writeHeadline(sheet, comparison);
  let row = writeFacts(sheet, FACTS_ROW, baselineFacts(fleet, comparison, plan));
  for (const note of baselineNotes(comparison, fleet.baselineInfo, { limits: plan.set.id })) writeAcross(sheet, row++, note, { ...PALETTE.caution, bold: true });
  row = writeMedians(sheet, row + 1, comparison, plan);
  const checks = comparison.rates.filter(({ group }) => group === 'check');
  const chart = { above: row, height: 8 + 2 * Math.min(14, Math.max(4, checks.length)) };
  row += chart.height + 2;
  const headerRow = row + 1;
  writeBaselineRatesHeader(sheet, headerRow);
  const { lastRow, checksRow } = writeBaselineRates(sheet, headerRow + 1, comparison);
  setUpPrint(sheet, { titleRows: `${headerRow - 1}:${headerRow}` });
  sheet.pageSetup.printArea = `A$1:${LAST}$${lastRow}`;
  return checks.length === 0 ? {} : { charts: [baselineChart({ sheet: BASELINE_SHEET, lettersOf: baselineLetters, firstRow: checksRow, toColumn: ACROSS, ...chart }, checks)] };
}

function explanation({ summary }: EvaluatedRows): string {
  return (
    'Both tables are evaluated with the same limits. Rates with the 95 % interval of Wilson; a difference is now less then, with the 95 % interval of Newcombe (1998), method 10: better where all of it lies below 0, worse where all of it lies above. ' +
    `Of twenty groups in which nothing changed, about one looks better or worse by chance. Values, computed when this workbook was written${summary.counted_to === null ? '' : `, from inspections up to ${summary.counted_to}`}.`
  );
}

function writeHeadline(sheet: Worksheet, { rates }: BaselineComparison): void {
  const all = rates.find(({ group }) => group === 'all');
  if (!all) return;
  writeAcross(sheet, HEADLINE_ROW, baselineHeadline(all), { ...(VERDICT_LOOKS[all.verdict] ?? PALETTE.caution), bold: true, size: 12 });
  sheet.getRow(HEADLINE_ROW).height = 24;
}

/** A line of words across the sheet. */
function writeAcross(sheet: Worksheet, row: number, words: string, look: CellLook): void {
  sheet.mergeCells(`A${row}:${LAST}${row}`);
  const cell = sheet.getCell(`A${row}`);
  cell.value = words;
  styleCell(cell, { wrap: true, line: true, ...look });
  sheet.getRow(row).height = 4 + 14 * Math.ceil(words.length / LINE);
}

/** Writes a value over the columns of one side. */
function writeSide(sheet: Worksheet, row: number, side: keyof typeof SIDES, value: string | number | null, look: CellLook): void {
  const [from, to] = SIDES[side];
  sheet.mergeCells(`${from}${row}:${to}${row}`);
  const cell = sheet.getCell(`${from}${row}`);
  cell.value = value;
  styleCell(cell, { line: true, ...look });
  alignCell(cell, { ...cell.alignment, horizontal: 'left' });
}

function writeSideTitles(sheet: Worksheet, row: number, label: string): void {
  sheet.getCell(`A${row}`).value = label;
  styleCell(sheet.getCell(`A${row}`), { ...PALETTE.header, bold: true, line: true });
  writeSide(sheet, row, 'then', THEN, { ...PALETTE.header, bold: true });
  writeSide(sheet, row, 'now', NOW, { ...PALETTE.header, bold: true });
}

/** @returns the first row below */
function writeFacts(sheet: Worksheet, from: number, facts: ReturnType<typeof baselineFacts>): number {
  writeSideTitles(sheet, from, 'What is set beside what');
  for (const [index, { label, then, now }] of facts.entries()) {
    const row = from + 1 + index;
    const longest = Math.max(String(then).length, String(now).length);
    sheet.getCell(`A${row}`).value = label;
    styleCell(sheet.getCell(`A${row}`), { bold: true, line: true, top: true });
    for (const [side, value] of [['then', then], ['now', now]] as const) writeSide(sheet, row, side, value, { top: true, wrap: true, size: longest > 60 ? 8 : 10, format: '0' });
    sheet.getRow(row).height = 4 + 12 * Math.ceil(longest / 64);
  }
  return from + 1 + facts.length;
}

/** @returns the first row below */
function writeMedians(sheet: Worksheet, from: number, { medians }: BaselineComparison, shownIn: ShownIn): number {
  writeSideTitles(sheet, from, 'Median of');
  for (const [index, median] of medians.entries()) {
    const { title, before, now, format } = shownMedian(median, shownIn);
    const row = from + 1 + index;
    sheet.getCell(`A${row}`).value = title;
    styleCell(sheet.getCell(`A${row}`), { bold: true, line: true });
    for (const [side, value] of [['then', before], ['now', now]] as const) writeSide(sheet, row, side, value ?? 'not measured', { format });
  }
  return from + 1 + medians.length;
}
