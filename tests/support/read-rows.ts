import { fieldDictionary } from '../../src/readings/dictionary.js';
import type { Inspection } from '../../src/readings/inspection.js';
import { readInspections, type InspectionReader, type ReadOptions } from '../../src/readings/read-inspections.js';
import type { RawCell, RawRow } from '../../src/util/raw-table.js';

/** A table as a file would give it, read to its end. */
export interface ReadRows {
  readonly reader: InspectionReader;
  readonly inspections: readonly Inspection[];
  /** The value of a field of each inspection. */
  readonly column: (field: string) => unknown[];
  /** The name of the field that each column was taken as; null for a column of the file's own. */
  readonly fields: readonly (string | null)[];
}

/** How to read the rows, and of what sheet they are. */
export interface RowsOptions extends Partial<ReadOptions> {
  readonly sheet?: string;
  readonly date1904?: boolean;
}

/** Reads rows of cells, or of cells with what else a row may say, the first of them row 1. */
export async function readRows(given: readonly (readonly RawCell[] | Omit<RawRow, 'number'>)[], { sheet = '', date1904 = false, ...options }: RowsOptions = {}): Promise<ReadRows> {
  const dictionary = options.dictionary ?? fieldDictionary();
  const rows = given.map((row, index): RawRow => ({ number: index + 1, ...('cells' in row ? row : { cells: row }) }));
  const source = async function* (): AsyncGenerator<RawRow> {
    yield* rows;
  };
  const reader = await readInspections({ sheet, date1904, rows: source() }, { dictionary, name: 'rows', ...options });
  const inspections: Inspection[] = [];
  for await (const inspection of reader.inspections) inspections.push(inspection);
  return {
    reader,
    inspections,
    column: (field) => inspections.map(({ values }) => values[dictionary.position.get(field)!] ?? null),
    fields: reader.columns.map((column) => (column.role === 'field' ? dictionary.fields[column.position]!.name : null)),
  };
}
