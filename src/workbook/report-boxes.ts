import { PAPER_COLUMNS, paperTextHeight, type PaperCell, type PaperRow } from './paper-page.js';

/** A named value of a report. */
export interface ReportItem {
  readonly label: string;
  readonly text: string;
}

const BOX = 6;
const LABEL = { size: 6 } as const;
const TEXT = { size: 8, border: 'under' } as const;
/** A text of more letters than this takes two boxes, of more than that a whole row. */
const LONG = 22;
const VERY_LONG = 50;
/** A text of a report is cut here, and says so. */
const LONGEST = 900;
const CUT = '… (cut; the whole stands in the source)';

/** A text as a report shows it: cut where it would fill the page. */
export function reportText(text: string): string {
  return text.length > LONGEST ? text.slice(0, LONGEST) + CUT : text;
}

/** Named values side by side, six to a row: the name in small type, the value below it. */
export function itemRows(items: readonly ReportItem[], pageWidth: number): PaperRow[] {
  const rows: PaperRow[] = [];
  let line: { readonly label: PaperCell; readonly text: PaperCell }[] = [];
  let at = 0;
  const end = (): void => {
    if (line.length > 0) rows.push(rowOf(line.map(({ label }) => label), pageWidth), rowOf(line.map(({ text }) => text), pageWidth));
    [line, at] = [[], 0];
  };
  for (const item of items) {
    const span = item.text.length > VERY_LONG ? PAPER_COLUMNS : item.text.length > LONG ? 2 * BOX : BOX;
    if (at + span > PAPER_COLUMNS) end();
    line.push({ label: { at, span, value: reportText(item.label), look: LABEL }, text: { at, span, value: reportText(item.text), look: TEXT } });
    at += span;
  }
  end();
  return rows;
}

/** A row as high as its highest text. */
export function rowOf(cells: readonly PaperCell[], pageWidth: number, least = 0): PaperRow {
  return { height: Math.max(least, ...cells.map(({ value, span, look }) => paperTextHeight(String(value ?? ''), span, pageWidth, look))), cells };
}

/** A text over the whole width, or from a column on. */
export function wholeRow(text: string, look: PaperCell['look'], pageWidth: number, at = 0): PaperRow {
  return rowOf([{ at, span: PAPER_COLUMNS - at, value: reportText(text), look }], pageWidth);
}

/** The heading of a part of a report. */
export function headingRow(words: string): PaperRow {
  return { height: 15, cells: [{ at: 0, span: PAPER_COLUMNS, value: words, look: { size: 9, bold: true, vertical: 'bottom', border: 'under' } }] };
}
