import type { Alignment, Borders, Cell, ConditionalFormattingRule, Fill, Font, Style, Worksheet } from 'exceljs';
import { VERDICTS } from '../limits/verdict.js';
import { printedCautions } from './cautions.js';
import { PALETTE } from './palette.js';

/** The font of every sheet. */
export const FONT_NAME = 'Arial';

/** How a cell looks. */
export interface CellLook {
  readonly fill?: string;
  readonly ink?: string;
  readonly bold?: boolean;
  readonly italic?: boolean;
  readonly size?: number;
  readonly wrap?: boolean;
  readonly centre?: boolean;
  readonly right?: boolean;
  readonly top?: boolean;
  readonly line?: boolean;
  readonly format?: string;
  readonly unlocked?: boolean;
}

/** The style of each look. Cells of one look share it, so that exceljs works it out once. */
const styles = new Map<string, Readonly<Partial<Style>>>();

/** Gives a cell its look; what the look does not name stays as it was. A style is shared and frozen: to align a cell otherwise, {@link alignCell}. */
export function styleCell(cell: Cell, look: CellLook): void {
  const style = sharedStyle(look);
  // The cells of a merged area have one style between them, which is changed for all of them.
  if (cell.isMerged && !Object.isFrozen(cell.style)) Object.assign(cell.style, style);
  else cell.style = Object.keys(cell.style).length === 0 ? style : { ...cell.style, ...style };
}

/** Aligns a cell otherwise than its look does. */
export function alignCell(cell: Cell, alignment: Partial<Alignment>): void {
  if (Object.isFrozen(cell.style)) cell.style = { ...cell.style, alignment };
  else cell.alignment = alignment;
}

function sharedStyle(look: CellLook): Readonly<Partial<Style>> {
  const key = JSON.stringify(look);
  let style = styles.get(key);
  if (style === undefined) styles.set(key, (style = Object.freeze(styleOf(look))));
  return style;
}

function styleOf(look: CellLook): Partial<Style> {
  const font: Partial<Font> = { name: FONT_NAME, size: look.size ?? 10, bold: look.bold ?? false, italic: look.italic ?? false };
  if (look.ink) font.color = { argb: look.ink };
  const alignment: Partial<Alignment> = { vertical: look.top ? 'top' : 'middle', wrapText: look.wrap ?? false };
  if (look.centre) alignment.horizontal = 'center';
  if (look.right) alignment.horizontal = 'right';
  return {
    font,
    alignment,
    ...(look.fill ? { fill: solid(look.fill) } : {}),
    ...(look.line ? { border: thinLines() } : {}),
    ...(look.format ? { numFmt: look.format } : {}),
    ...(look.unlocked ? { protection: { locked: false } } : {}),
  };
}

function solid(argb: string): Fill {
  return { type: 'pattern', pattern: 'solid', fgColor: { argb } };
}

function thinLines(): Partial<Borders> {
  const side = { style: 'hair' as const, color: { argb: PALETTE.line } };
  return { top: side, bottom: side, left: side, right: side };
}

/** Colours verdict words in a range; the word itself carries the meaning. */
export function colourVerdicts(sheet: Worksheet, range: string): void {
  sheet.addConditionalFormatting({
    ref: range,
    rules: VERDICTS.map((verdict, index) => ({
      type: 'cellIs',
      operator: 'equal',
      priority: index + 1,
      formulae: [`"${verdict}"`],
      style: {
        fill: { type: 'pattern', pattern: 'solid', bgColor: { argb: PALETTE[verdict].fill } },
        font: { color: { argb: PALETTE[verdict].ink }, bold: verdict === 'fail' || verdict === 'recheck' },
      },
    })),
  });
}

/** A rule that fills and inks the cells for which a formula holds; a word beside or in them carries the meaning. */
export function colourWhere(formula: string, { fill, ink }: { readonly fill: string; readonly ink: string }, priority: number): ConditionalFormattingRule {
  return { type: 'expression', priority, formulae: [formula], style: { fill: { type: 'pattern', pattern: 'solid', bgColor: { argb: fill } }, font: { color: { argb: ink }, bold: true } } };
}

/** Prints a sheet in landscape, with the cautions, page numbers and its header rows on every page; `pagesHigh` 0 is as many as it takes. */
export function setUpPrint(sheet: Worksheet, options: { readonly titleRows?: string; readonly titleColumns?: string; readonly pagesWide?: number; readonly pagesHigh?: number; readonly portrait?: boolean } = {}): void {
  sheet.pageSetup = {
    ...sheet.pageSetup,
    paperSize: 9,
    orientation: options.portrait ? 'portrait' : 'landscape',
    fitToPage: true,
    fitToWidth: options.pagesWide ?? 1,
    fitToHeight: options.pagesHigh ?? 0,
    pageOrder: 'overThenDown',
    margins: { left: 0.4, right: 0.4, top: options.portrait ? 0.55 : 0.65, bottom: options.portrait ? 0.55 : 0.65, header: 0.25, footer: 0.25 },
  };
  if (options.titleRows) sheet.pageSetup.printTitlesRow = options.titleRows;
  if (options.titleColumns) sheet.pageSetup.printTitlesColumn = options.titleColumns;
  // Wide sheets are printed smaller, and their headers with them.
  const size = options.portrait ? 7 : 10;
  sheet.headerFooter.oddHeader = `&C&${size}${lines(printedCautions('header'))}`;
  sheet.headerFooter.oddFooter = `&L&${size}${lines(printedCautions('footer'))}&R&${size}&A\npage &P of &N`;
}

/** Sentences in two lines as even as can be, for a header or a footer, which does not wrap; an ampersand is doubled. */
function lines(sentences: readonly string[]): string {
  const whole = sentences.map((sentence) => sentence.replaceAll('&', '&&'));
  const splits = whole.map((_, index) => [whole.slice(0, index + 1), whole.slice(index + 1)].map((part) => part.join(' ')));
  const longest = (split: readonly string[]): number => Math.max(...split.map(({ length }) => length));
  return splits.reduce((best, split) => (longest(split) < longest(best) ? split : best)).join('\n').trim();
}
