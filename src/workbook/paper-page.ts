import type { Borders, CellValue, Worksheet } from 'exceljs';
import { columnLetters } from '../util/column-letters.js';
import { FONT_NAME, setUpPrint } from './cell-styles.js';
import { textLines } from './text-lines.js';

/** How a piece of a printed page looks: black on white only. */
export interface PaperLook {
  readonly size?: number;
  readonly bold?: boolean;
  readonly wrap?: boolean;
  readonly horizontal?: 'left' | 'center' | 'right';
  readonly vertical?: 'top' | 'middle' | 'bottom';
  /** `box` on all sides, `heavy` the same in thick lines, `over` and `under` one line. */
  readonly border?: 'box' | 'heavy' | 'over' | 'under';
}

/** A piece of a row: `at` and `span` count columns of the page. */
export interface PaperCell {
  readonly at: number;
  readonly span: number;
  /** How many rows it reaches down; 1 when left out. */
  readonly down?: number;
  readonly value: CellValue;
  readonly look: PaperLook;
}

/** A row of a printed page. */
export interface PaperRow {
  /** In points. */
  readonly height: number;
  /** True for a row to write into with a pen, which may be made higher where the page has room. */
  readonly pen?: boolean;
  /** True for a row that takes what room is still left then. */
  readonly takesRest?: boolean;
  readonly cells: readonly PaperCell[];
}

/** Columns of a page. They are narrow, so that boxes of any width can stand in one row. */
export const PAPER_COLUMNS = 36;
/** What fits between the margins of A4 and of Letter alike, in points. */
const USABLE = { width: 536, height: 700 } as const;
const USUAL_SIZE = 8;
/** Points of one unit of column width: 7 pixels of 1/96 inch. */
const POINTS_PER_UNIT = 5.25;
/** Left free at both sides of a text in its cell, in points. */
const PADDING = 5;
/** The most that a row for the pen is stretched to. */
const HIGHEST_PEN_ROW = 32;
/** The most that the row for notes is stretched to. */
const HIGHEST_REST = 160;

/** The height of a text in points when it is wrapped in so many columns of a page. */
export function paperTextHeight(text: string, span: number, pageWidth: number, { size = USUAL_SIZE, bold = false }: PaperLook = {}): number {
  const width = (pageWidth / PAPER_COLUMNS) * span - PADDING;
  return 3 + textLines(text, width, size, bold) * size * 1.2;
}

/** The height that a row must have to be so many points high in print, on a page that is printed smaller to fit. */
export function printedHeight(points: number, pageWidth: number): number {
  return points * Math.max(1, pageWidth / USABLE.width);
}

/**
 * Finds the widest type that fits on one page, and stretches the rows for the pen into what is left over. A page that is too long
 * is laid out wider and printed smaller.
 *
 * @param layOut the rows for a page so many points wide
 */
export function fitPaper(layOut: (pageWidth: number) => PaperRow[]): { readonly rows: readonly PaperRow[]; readonly width: number } {
  for (let factor = 1; ; factor += 0.02) {
    const rows = layOut(USABLE.width * factor);
    const left = USABLE.height * factor - heightOf(rows);
    if (left < 0 && factor < 2) continue;
    return { rows: stretched(rows, left, factor), width: USABLE.width * factor };
  }
}

function stretched(rows: readonly PaperRow[], left: number, factor: number): PaperRow[] {
  const pens = rows.filter(({ pen }) => pen).length;
  const higher = rows.map((row) => (row.pen ? { ...row, height: Math.max(row.height, Math.min(HIGHEST_PEN_ROW * factor, row.height + left / pens)) } : row));
  const rest = left - (heightOf(higher) - heightOf(rows));
  return higher.map((row) => (row.takesRest ? { ...row, height: Math.max(row.height, Math.min(HIGHEST_REST, row.height + rest)) } : row));
}

const heightOf = (rows: readonly PaperRow[]): number => rows.reduce((sum, { height }) => sum + height, 0);

/** Writes the rows of a page into a sheet, and has it printed on one page, upright, in black and white. */
export function writePaper(sheet: Worksheet, { rows, width }: { readonly rows: readonly PaperRow[]; readonly width: number }): void {
  for (let column = 1; column <= PAPER_COLUMNS; column++) sheet.getColumn(column).width = width / PAPER_COLUMNS / POINTS_PER_UNIT;
  for (const [index, { height, cells }] of rows.entries()) {
    const number = index + 1;
    sheet.getRow(number).height = Math.round(height * 4) / 4;
    for (const cell of cells) writeCell(sheet, number, cell);
  }
  setUpPrint(sheet, { portrait: true, pagesHigh: 1 });
  sheet.pageSetup.blackAndWhite = true;
  sheet.pageSetup.horizontalCentered = true;
  sheet.pageSetup.printArea = `A1:${columnLetters(PAPER_COLUMNS - 1)}${rows.length}`;
}

function writeCell(sheet: Worksheet, row: number, { at, span, down = 1, value, look }: PaperCell): void {
  if (span > 1 || down > 1) sheet.mergeCells(row, at + 1, row + down - 1, at + span);
  const cell = sheet.getCell(row, at + 1);
  cell.value = value;
  cell.font = { name: FONT_NAME, size: look.size ?? USUAL_SIZE, bold: look.bold ?? false };
  cell.alignment = { vertical: look.vertical ?? 'top', horizontal: look.horizontal ?? 'left', wrapText: look.wrap ?? true };
  const border = bordersOf(look.border);
  if (border) cell.border = border;
}

function bordersOf(border: PaperLook['border']): Partial<Borders> | null {
  if (border === undefined) return null;
  const side = { style: border === 'heavy' ? ('medium' as const) : ('thin' as const), color: { argb: 'FF000000' } };
  if (border === 'over') return { top: side };
  if (border === 'under') return { bottom: side };
  return { top: side, bottom: side, left: side, right: side };
}
