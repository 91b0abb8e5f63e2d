import type { Dictionary } from './dictionary.js';
import type { ColumnRole } from './find-header.js';

/** Names of the optional columns among the columns of a table: half-widths, and those marked `when_used`. */
export function optionalColumnsOf(columns: readonly ColumnRole[], dictionary: Dictionary): Set<string> {
  return new Set(columns.flatMap((column) => (column.role === 'field' && column.position >= dictionary.standardCount ? [dictionary.fields[column.position]!.name] : [])));
}
