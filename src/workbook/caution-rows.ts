import { cautions } from './cautions.js';
import { PAPER_COLUMNS, paperTextHeight, type PaperLook, type PaperRow } from './paper-page.js';

const LOOK: PaperLook = { size: 7, bold: true, border: 'box' };
/** The short cautions stand on the left, one to a line; the long ones on the right. */
const LEFT = { at: 0, span: 14 } as const;
const RIGHT = { at: 14, span: PAPER_COLUMNS - 14 } as const;
const SHORT = 60;

/** A notice without the sentences that are cautions, for a page that shows those anyway. */
export function withoutCautions(notice: string): string {
  return cautions().reduce((text, caution) => text.replace(caution, ''), notice).replace(/ {2,}/g, ' ').trim();
}

/** The cautions, all of them word for word, side by side in one frame of a printed page. */
export function cautionRows(pageWidth: number): PaperRow[] {
  const all = cautions();
  const listed = (isShort: boolean): string => all.filter(({ length }) => length <= SHORT === isShort).map((caution) => `• ${caution}`).join('\n');
  const [left, right] = [listed(true), listed(false)];
  const height = Math.max(paperTextHeight(left, LEFT.span, pageWidth, LOOK), paperTextHeight(right, RIGHT.span, pageWidth, LOOK));
  return [{ height, cells: [{ ...LEFT, value: left, look: LOOK }, { ...RIGHT, value: right, look: LOOK }] }];
}
