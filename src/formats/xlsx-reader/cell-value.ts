import type { RawCell } from '../../util/raw-table.js';
import type { SheetContext } from './sheet-context.js';
import { finishText } from './text-runs.js';
import { unreadable } from './unreadable.js';

/**
 * The value of a cell from the text of its `v` element, by the cell's type (ECMA-376 Part 1, 18.18.11, ST_CellType).
 *
 * A number in a date or time format keeps the format. What claims to be a number and is none (`NaN`) stays text, for whoever reads the cell to
 * see. An ISO date cell stays text too, without a time of midnight.
 *
 * @param type the attribute `t`
 * @param style the attribute `s`
 * @throws TreadlebookError `input_unreadable` for a shared string that is not there and a text too long
 */
export function readCellValue(type: string | undefined, style: string | undefined, raw: string, context: SheetContext, where: () => string): RawCell {
  switch (type) {
    case 's':
      return sharedString(raw, context.strings, where);
    case 'inlineStr':
    case 'str':
    case 'e':
      return finishText(raw, context.caps.stringLength, where);
    case 'b':
      return raw.trim() === '1' || raw.trim() === 'true';
    case 'd':
      return raw.trim().slice(0, 40).replace(/T00:00(?::00(?:\.0+)?)?Z?$/, '');
    default:
      return numberOrText(raw, style, context, where);
  }
}

function sharedString(raw: string, strings: readonly string[], where: () => string): string {
  const text = raw.trim() === '' ? undefined : strings[Number(raw)];
  if (text !== undefined) return text;
  throw unreadable(where(), `it asks for shared string ${JSON.stringify(raw.slice(0, 20))}, and the workbook has ${strings.length} of them, counted from 0`);
}

function numberOrText(raw: string, style: string | undefined, context: SheetContext, where: () => string): RawCell {
  const value = Number(raw);
  if (!Number.isFinite(value) || /^\s*0[box]/i.test(raw)) return finishText(raw, context.caps.stringLength, where);
  if (raw.trim() === '') return null;
  return numberInStyle(value, style === undefined ? 0 : Number(style), context);
}

/** A number as a cell of a style holds it: with its format where that shows a date or a time. */
export function numberInStyle(value: number, style: number, { dateFormats }: Pick<SheetContext, 'dateFormats'>): RawCell {
  const format = dateFormats[style];
  return format == null ? value : { value, format };
}
