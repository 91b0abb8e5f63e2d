import { z } from 'zod';
import { columnLetters } from '../util/column-letters.js';
import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { Dictionary } from './dictionary.js';
import type { ColumnMap, ColumnRole } from './find-header.js';

/** A file that says by hand which column holds which field. */
export const columnMapSchema = z
  .strictObject({
    format: z.literal('treadlebook-map'),
    version: z.literal(1),
    columns: z.record(z.string(), z.string().nullable()).describe('header text to the name of a field; null for a column that is none of ours'),
  })
  .meta({ id: 'ColumnMap', title: 'Which column of a file holds which field' });

/**
 * Reads the text of a map file.
 *
 * @throws TreadlebookError `usage`
 * @example parseColumnMap('{"format":"treadlebook-map","version":1,"columns":{"P start":"released_primary_start"}}', 'map.json', dictionary)
 */
export function parseColumnMap(text: string, name: string, dictionary: Dictionary): ColumnMap {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (cause) {
    throw new TreadlebookError({ code: 'usage', where: name, what: `it is not JSON: ${cause instanceof Error ? cause.message : ''}`, mend: 'check commas, quotes and brackets', cause });
  }
  const result = columnMapSchema.safeParse(json);
  if (!result.success) {
    const [issue] = result.error.issues;
    throw new TreadlebookError({ code: 'usage', where: name, what: `${issue!.path.join('.') || 'the file'}: ${issue!.message}`, mend: 'write what `--show-map` prints, and change that' });
  }
  // zod leaves a key named __proto__ out without a word; to a map file it is a header like any other.
  const map = new Map(Object.entries((json as z.input<typeof columnMapSchema>).columns));
  const proto: unknown = map.get('__proto__') ?? null;
  if (proto !== null && typeof proto !== 'string') throw new TreadlebookError({ code: 'usage', where: name, what: 'columns.__proto__: it is neither the name of a field nor null', mend: 'write what `--show-map` prints, and change that' });
  const taken = new Map<string, string>();
  for (const [header, field] of map) {
    if (field === null) continue;
    if (!dictionary.position.has(field)) {
      const near = nearestName(field, dictionary.position.keys());
      throw new TreadlebookError({ code: 'usage', where: `${name}, ${header}`, what: `no field is named ${field}`, mend: near ? `did you mean ${near}?` : '`treadlebook fields` lists the fields' });
    }
    const other = taken.get(field);
    if (other !== undefined) throw new TreadlebookError({ code: 'usage', where: `${name}, ${header}`, what: `${field} is given to the column ${other} already`, mend: 'give each field to one column' });
    taken.set(field, header);
  }
  return map;
}

/** One line of a mapping: which column was taken as what, and how that was told. */
export interface MappedColumn {
  /** Letters of the column. */
  readonly column: string;
  readonly header: string;
  /** The field's name; null for a column that is none of ours. */
  readonly field: string | null;
  /** The unit that the header names, or an empty text. */
  readonly unit: string;
  readonly how: string;
}

/** What every column of a table was taken as. */
export function describeColumns(columns: readonly ColumnRole[], dictionary: Dictionary): MappedColumn[] {
  return columns.map((column, index) => {
    const own = { column: columnLetters(index), header: column.header };
    if (column.role !== 'field') return { ...own, field: null, unit: '', how: column.role === 'extra' ? 'a column of yours, kept as it is' : 'made anew by the program' };
    return { ...own, field: dictionary.fields[column.position]!.name, unit: column.unit ?? column.timeUnit ?? '', how: column.how };
  });
}

/** A map file that says what was understood, to be changed by hand. Of a header that stands there twice it says which field it is. */
export function columnMapText(columns: readonly ColumnRole[], dictionary: Dictionary): string {
  const fields = new Map<string, string | null>();
  for (const column of columns) {
    if (column.header === '' || (column.role !== 'field' && column.role !== 'extra')) continue;
    const field = column.role === 'field' ? dictionary.fields[column.position]!.name : null;
    fields.set(column.header, field ?? fields.get(column.header) ?? null);
  }
  return `${JSON.stringify({ format: 'treadlebook-map', version: 1, columns: Object.fromEntries(fields) }, null, 2)}\n`;
}
