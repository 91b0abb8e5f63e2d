import type { CellValue, Worksheet } from 'exceljs';
import { z } from 'zod';
import { VERDICTS } from '../../limits/verdict.js';
import { columnLetters } from '../../util/column-letters.js';
import { readPackageJsonFile } from '../../util/read-package-json-file.js';
import { cautions } from '../cautions.js';
import { setUpPrint, styleCell, type CellLook } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { sheetPurposes } from '../sheet-purposes.js';
import { HOLD_COLUMNS, holdHeader, holdLines, MOST_HOLD_LINES } from './hold-lines.js';

/** The sheet's name. */
export const START_SHEET = 'Start here';

const textSchema = z.object({
  purpose: z.string(),
  entry: z.array(z.string()),
  verdicts: z.array(z.object({ verdict: z.enum(VERDICTS), means: z.string() })),
  chance: z.string(),
  hold: z.string(),
  cooling: z.string(),
  protection: z.string(),
});

/** Widths of the columns: the labels, and what stands beside them, divided as the table of holds needs it. */
const WIDTHS = [18, ...HOLD_COLUMNS.slice(1).map(({ width }) => width)];
const LAST = columnLetters(WIDTHS.length - 1);

/** Lays out the sheet Start here: what this is, the cautions, how to enter a row, the legend, how long to hold a test, what each sheet answers. */
export function startHereSheet(context: SheetContext): SheetParts {
  const { book, plan, layout, fleet } = context;
  const text = textSchema.parse(readPackageJsonFile('workbooks', 'start-here.json'));
  const sheet = book.addWorksheet(START_SHEET, { views: [{ showGridLines: false }] });
  WIDTHS.forEach((width, index) => (sheet.getColumn(index + 1).width = width));
  const page = new Page(sheet);
  page.title('Treadlebook: in-cab air-brake tests');
  page.line(text.purpose);
  page.heading('Cautions');
  for (const caution of cautions()) page.line(caution, { ...PALETTE.caution, bold: true });
  page.heading('Limits in use');
  page.pair('Limit set', `${plan.set.title} (${plan.set.id})`);
  page.pair('Authority', plan.set.authority);
  page.pair('Notice', plan.set.notice, { ...PALETTE.caution });
  if (fleet) page.pair('Input', `${fleet.source.name}: ${fleet.source.inspections} inspections, ${fleet.problems.length} problems`);
  page.heading('How to enter a row');
  text.entry.forEach((line, index) => page.pair(`${index + 1}`, line));
  page.heading('What the words mean');
  for (const { verdict, means } of text.verdicts) page.pair(verdict, means, {}, { ...PALETTE[verdict], bold: true, centre: true });
  page.pair('chance', text.chance);
  page.heading('The sheets');
  for (const [name, purpose] of sheetPurposes({ baseline: fleet?.baseline != null, severalSets: plan.sets.length > 1, strokes: fleet === null || fleet.strokes != null, furtherReadings: layout.parts.slice(1).map(({ sheet: further }) => further) })) page.pair(name, purpose);
  page.pair('Protection', text.protection);
  writeHolds(page, context, text);
  setUpPrint(sheet, { portrait: true });
  void sheet.protect('', { selectLockedCells: true, selectUnlockedCells: true, formatColumns: true, formatRows: true });
  return {};
}

/** Writes the table of how long to hold a leak test, for the gauges and the limits in use, and what a warm tank fakes. */
function writeHolds(page: Page, context: SheetContext, text: z.output<typeof textSchema>): void {
  page.breakBefore();
  page.heading('How long to hold a leak test');
  page.line(text.hold);
  const { lines, more } = holdLines(context, page.nextRow + 1);
  if (lines.length > 0) page.cells(holdHeader(), () => ({ ...PALETTE.header, bold: true, centre: true, size: 9 }), 40);
  for (const { values, looks, height } of lines) page.cells(values, (index) => looks[index]!, height);
  if (more > 0) page.line(`${more} more lines are left out (the table holds ${MOST_HOLD_LINES}): treadlebook hold gives any of them.`);
  page.pair('warm tanks', text.cooling);
}

/** Writes down the page, one row after the other. */
class Page {
  private row = 0;

  constructor(private readonly sheet: Worksheet) {}

  /** The row that is written next. */
  get nextRow(): number {
    return this.row + 1;
  }

  title(words: string): void {
    this.write(words, '', { ...PALETTE.title, bold: true, size: 16 }, PALETTE.title, 32);
  }

  heading(words: string): void {
    this.row += 1;
    this.sheet.getRow(this.row).height = 8;
    this.write(words, '', { ...PALETTE.band, bold: true, size: 12 }, PALETTE.band, 20);
  }

  line(words: string, look: CellLook = {}): void {
    this.row += 1;
    this.sheet.mergeCells(`A${this.row}:${LAST}${this.row}`);
    const cell = this.sheet.getCell(`A${this.row}`);
    cell.value = words;
    styleCell(cell, { wrap: true, ...look });
    this.sheet.getRow(this.row).height = heightFor(words, 135);
  }

  pair(label: string, words: string, look: CellLook = {}, labelLook: CellLook = {}): void {
    this.write(label, words, { bold: true, top: true, ...labelLook }, { wrap: true, top: true, ...look }, heightFor(words, 118));
  }

  /** What follows is printed on a page of its own. */
  breakBefore(): void {
    this.sheet.getRow(this.row).addPageBreak();
  }

  cells(values: readonly CellValue[], lookOf: (index: number) => CellLook, height: number): void {
    this.row += 1;
    for (const [index, value] of values.entries()) {
      const cell = this.sheet.getCell(`${columnLetters(index)}${this.row}`);
      cell.value = value;
      styleCell(cell, { line: true, wrap: true, ...lookOf(index) });
    }
    this.sheet.getRow(this.row).height = height;
  }

  private write(left: string, right: string, leftLook: CellLook, rightLook: CellLook, height: number): void {
    this.row += 1;
    const [a, b] = [this.sheet.getCell(`A${this.row}`), this.sheet.getCell(`B${this.row}`)];
    a.value = left;
    if (right !== '') b.value = right;
    styleCell(a, leftLook);
    styleCell(b, rightLook);
    this.sheet.mergeCells(`${right === '' ? 'A' : 'B'}${this.row}:${LAST}${this.row}`);
    this.sheet.getRow(this.row).height = height;
  }
}

function heightFor(words: string, charactersWide: number): number {
  return 4 + 13.5 * Math.ceil(words.length / charactersWide);
}
