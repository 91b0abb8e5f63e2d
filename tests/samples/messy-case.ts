import { readFileSync, readdirSync } from 'node:fs';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { parseColumnMap } from '../../src/readings/column-map.js';
import type { Entry } from '../../src/readings/inspection.js';
import type { ProblemCode } from '../../src/readings/problem.js';
import { packagePath } from '../../src/util/package-path.js';
import type { EvaluateOptions } from '../../src/workbook/opened-fleet.js';

/** What a person reads in one of the messy samples, written by hand beside it. */
export interface MessyCase {
  readonly what: string;
  readonly options: { readonly dateOrder?: 'dmy' | 'mdy'; readonly sheet?: string; readonly units?: 'folded'; readonly map?: string };
  /** Header of each column and the field that it is; null for a column of the office's own. */
  readonly fields: readonly (readonly [header: string, field: string | null])[];
  /** The row and every understood value by field: pressures in the unit of the row, times in seconds. */
  readonly inspections: readonly Readonly<Record<string, Entry>>[];
  /** Columns of the office's own that hold anything, one cell per inspection; header null for cells beyond the header. */
  readonly extra: readonly { readonly header: string | null; readonly cells: readonly Entry[] }[];
  readonly problems: readonly { readonly code: ProblemCode; readonly row: number | null; readonly column: string; readonly cell: string }[];
  readonly counts: Readonly<Record<'rows_read' | 'rows_blank' | 'rows_set_aside' | 'inspections', number>>;
}

const SUFFIX = '.expected.json';
const folder = packagePath('samples', 'messy');

/** The files that have expected results, by name. */
export function messyNames(): string[] {
  return readdirSync(folder).filter((name) => name.endsWith(SUFFIX)).map((name) => name.slice(0, -SUFFIX.length)).sort();
}

export function messyPath(name: string): string {
  return packagePath('samples', 'messy', name);
}

export function messyCase(name: string): MessyCase {
  return JSON.parse(readFileSync(messyPath(name + SUFFIX), 'utf8')) as MessyCase;
}

/** The options of a case as the program takes them, its map file read. */
export function messyOptions({ options: { map, ...options } }: MessyCase): EvaluateOptions {
  return map === undefined ? options : { ...options, map: parseColumnMap(readFileSync(messyPath(map), 'utf8'), map, fieldDictionary()) };
}
