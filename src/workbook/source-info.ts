import { sha256 } from '../util/sha256.js';

/** Where a table came from, and how many rows it had. */
export interface TableSource {
  readonly name: string;
  readonly sheet: string;
  /** SHA-256 of the bytes that were read. */
  readonly sha256: string;
  readonly rows_read: number;
  readonly rows_blank: number;
  /** Rows that sum up others, or hold what an earlier table holds, and were taken as none of their own. */
  readonly rows_set_aside: number;
}

/** Where the inspections came from, and how many there were: read = blank + set aside + inspections. */
export interface SourceInfo extends TableSource {
  readonly inspections: number;
  /** Where there were several tables: each of them, in the order in which they were read. */
  readonly files?: readonly SourceInfo[];
}

/** Files that are named one by one where several are named together. */
const MOST_NAMED = 3;

/**
 * The source of several tables that were read as one. Its SHA-256 is that of theirs, one a line.
 *
 * @param passedOver rows that were read, hold what an earlier table holds, and were set aside for it
 */
export function joinSources<T extends TableSource>(files: readonly [T, ...T[]], passedOver: number): TableSource {
  const sum = (count: 'rows_read' | 'rows_blank' | 'rows_set_aside'): number => files.reduce((total, file) => total + file[count], 0);
  const names = files.slice(0, MOST_NAMED).map(({ name }) => name).join(', ');
  return {
    name: files.length > MOST_NAMED ? `${names} and ${files.length - MOST_NAMED} more` : names,
    sheet: '',
    sha256: sha256(files.map((file) => `${file.sha256}\n`).join('')),
    rows_read: sum('rows_read'),
    rows_blank: sum('rows_blank'),
    rows_set_aside: sum('rows_set_aside') + passedOver,
  };
}
