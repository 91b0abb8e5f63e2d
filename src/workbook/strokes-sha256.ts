import { STROKE_FIELDS, type Stroke } from '../strokes/stroke.js';
import { cutCellText } from '../util/cut-cell-text.js';
import { sha256 } from '../util/sha256.js';
import { extraCell, foundThatFit } from './cell-values.js';

/**
 * One SHA-256 of the entries of many strokes: what was understood, the texts as found, and the columns of the user's own under
 * their headers. The order of rows makes no difference, nor do digits of a number beyond the twelfth.
 *
 * @param extraHeaders headers of the columns that are not ours, in the order of `stroke.extra`
 */
export function strokesSha256(strokes: readonly Stroke[], extraHeaders: readonly string[]): string {
  const rows = strokes.map(({ entries, asFound: all, extra }) => {
    const asFound = foundThatFit(all);
    const fields = STROKE_FIELDS.flatMap((field) => {
      const found = asFound.get(field);
      if (found !== undefined) return [[field, 'found', cutCellText(found)]];
      return entries[field] === null ? [] : [[field, 'value', canonical(entries[field])]];
    });
    const own = extra.flatMap((cell, index) => {
      const value = extraCell(cell);
      return value === null ? [] : [[cutCellText(extraHeaders[index] ?? ''), canonical(value)]];
    });
    return sha256(JSON.stringify([fields, own.map((item) => JSON.stringify(item)).sort()]));
  });
  return sha256(rows.sort().join('\n'));
}

function canonical(value: string | number | boolean | null): string | number | boolean | null {
  if (typeof value === 'string') return cutCellText(value);
  return typeof value === 'number' ? Number(Number(value.toPrecision(15)).toPrecision(12)) : value;
}
