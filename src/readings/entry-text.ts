import { formatTime } from './format-time.js';
import type { Field } from './field.js';
import type { Entry } from './inspection.js';

/**
 * What was understood of a cell, written the plain way: `104`, `1:00`, `yes`, `2026-03-14`.
 *
 * @example entryText(timeField, 250) // '4:10'
 */
export function entryText(field: Pick<Field, 'kind'>, entry: Entry): string {
  if (entry === null) return '';
  if (typeof entry === 'boolean') return entry ? 'yes' : 'no';
  if (typeof entry === 'number') return field.kind === 'time' ? formatTime(entry) : String(entry);
  return entry;
}
