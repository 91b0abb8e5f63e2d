import type { RawCell } from '../util/raw-table.js';
import type { ColumnRole } from './find-header.js';

/** The columns of several tables as those of one. */
export interface JoinedColumns {
  readonly columns: readonly ColumnRole[];
  /** For each table, brings the cells of its columns that are not ours to their places among those of all. */
  readonly places: readonly ((extra: readonly RawCell[]) => readonly RawCell[])[];
}

/**
 * Joins the columns of several tables: those of the first, then what each further one has besides. A field is one column,
 * whatever its header; a column that is not ours is the same under the same header, the second of a header being the second.
 *
 * @example joinColumns([columnsOf('unit,bay'), columnsOf('unit,colour,bay')]).columns.map(({ header }) => header) // ['unit', 'bay', 'colour']
 */
export function joinColumns(tables: readonly (readonly ColumnRole[])[]): JoinedColumns {
  const columns: ColumnRole[] = [];
  const known = new Set<string>();
  const extraAt = new Map<string, number>();
  const keysOf = tables.map((table) => {
    const times = new Map<string, number>();
    return table.map((column) => {
      const base = column.role === 'field' ? `field ${column.position}` : column.role === 'as_found' ? 'as_found' : `${column.role} ${column.header}`;
      const time = (times.get(base) ?? 0) + 1;
      times.set(base, time);
      return column.role === 'extra' ? `${base} ${time}` : base;
    });
  });
  for (const [index, table] of tables.entries()) {
    for (const [at, column] of table.entries()) {
      const key = keysOf[index]![at]!;
      if (known.has(key)) continue;
      known.add(key);
      columns.push(column);
      if (column.role === 'extra') extraAt.set(key, extraAt.size);
    }
  }
  const places = tables.map((table, index) => {
    const targets = table.flatMap((column, at) => (column.role === 'extra' ? [extraAt.get(keysOf[index]![at]!)!] : []));
    const isInPlace = targets.length === extraAt.size && targets.every((target, at) => target === at);
    return (extra: readonly RawCell[]): readonly RawCell[] => {
      if (isInPlace) return extra;
      const joined: RawCell[] = new Array<RawCell>(extraAt.size).fill(null);
      for (const [at, cell] of extra.entries()) {
        if (at < targets.length) joined[targets[at]!] = cell;
        else joined.push(cell);
      }
      return joined;
    };
  });
  return { columns, places };
}
