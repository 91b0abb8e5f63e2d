import type { Field } from '../readings/field.js';
import { PAPER_COLUMNS, paperTextHeight, printedHeight, type PaperCell, type PaperRow } from './paper-page.js';
import { textWidth } from './text-lines.js';

/** Columns of a box for one reading: six of them fill a row; narrower where a seventh would stand alone. */
const BOX = 6;
const NARROW_BOX = 5;
/** Printed height in points, however small the page is printed: 7 mm. */
const PEN_HEIGHT = 20;
const LABEL_SIZE = 6.5;
const CHOICE_SIZE = 7;
const TICK = '□';

/** Boxes to write into, in rows: the name of the reading above, room for a pen below, and something to tick where there are choices. */
export function boxRows(fields: readonly Field[], pageWidth: number, border: 'box' | 'heavy'): PaperRow[] {
  const box = Math.ceil(fields.length / 7) < Math.ceil(fields.length / 6) ? NARROW_BOX : BOX;
  const rows: PaperRow[] = [];
  let [labels, pens]: [PaperCell[], PaperCell[]] = [[], []];
  let [at, height] = [0, 0];
  const end = (): void => {
    if (labels.length > 0) rows.push({ height, cells: labels }, { height: printedHeight(PEN_HEIGHT, pageWidth), pen: true, cells: pens });
    [labels, pens, at, height] = [[], [], 0, 0];
  };
  for (const field of fields) {
    const span = spanOf(field, pageWidth, box);
    if (at + span > PAPER_COLUMNS) end();
    const label = labelOf(field);
    labels.push({ at, span, value: label, look: { size: LABEL_SIZE, vertical: 'bottom' } });
    pens.push({ at, span, value: choicesOf(field), look: { size: CHOICE_SIZE, border, vertical: field.never ? 'bottom' : 'middle', horizontal: field.never ? 'right' : 'left' } });
    height = Math.max(height, paperTextHeight(label, span, pageWidth, { size: LABEL_SIZE }));
    at += span;
  }
  end();
  return rows;
}

function labelOf({ title, kind }: Field): string {
  return kind === 'time' ? `${title} (min:s)` : title;
}

/** What stands in a box to be ticked; null where something is to be written. */
function choicesOf({ choices, kind, never }: Field): string | null {
  if (choices) return choices.map((choice) => `${TICK}\u00a0${choice.replaceAll(' ', '\u00a0')}`).join('  ');
  if (kind === 'yes_no') return `${TICK}\u00a0yes   ${TICK}\u00a0no`;
  return never ? `${TICK}\u00a0never` : null;
}

/** The columns that the box of a field takes: two lines of choices must fit into it. */
export function spanOf(field: Field, pageWidth: number, box = BOX): number {
  const words = field.choices ? choicesOf(field)! : '';
  const boxWidth = (pageWidth / PAPER_COLUMNS) * box;
  return Math.min(PAPER_COLUMNS, box * Math.max(1, Math.ceil(textWidth(words, CHOICE_SIZE) / (1.6 * boxWidth))));
}
