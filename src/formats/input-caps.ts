import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';

interface Cap {
  readonly most: number;
  readonly of: string;
}

const MEGABYTE = 1024 * 1024;

/**
 * Every bound within which a file is read: the most that is taken, and of what. Rows, columns and the length of a text are a spreadsheet's own
 * limits; the rest is ample for a table of a million rows. Counts are what is really found, not what the file declares.
 */
export const INPUT_CAPS = {
  xlsx: {
    fileBytes: { most: 2048 * MEGABYTE, of: 'bytes of the file' },
    entries: { most: 10_000, of: 'entries of the zip' },
    partBytes: { most: 16_384 * MEGABYTE, of: 'inflated bytes of one sheet, or of the shared strings' },
    smallPartBytes: { most: 64 * MEGABYTE, of: 'inflated bytes of any other part' },
    totalBytes: { most: 24_576 * MEGABYTE, of: 'inflated bytes of all parts that are read' },
    inflation: { most: 100, of: 'inflated bytes for each byte of the file, once they come to more than a gigabyte' },
    rows: { most: 1_048_576, of: 'rows of a sheet' },
    columns: { most: 16_384, of: 'columns of a sheet' },
    cells: { most: 200_000_000, of: 'cells that a sheet holds' },
    blanks: { most: 50_000_000, of: 'cells that a sheet leaves out before later ones of the same row' },
    rowLength: { most: 16 * MEGABYTE, of: 'characters of one row, values and formulas' },
    stringLength: { most: 32_767, of: 'characters of one text or formula' },
    sharedStrings: { most: 5_000_000, of: 'shared strings' },
    expandedFormulas: { most: 4096 * MEGABYTE, of: 'characters of the formulas of a sheet that are written out from shared ones' },
    names: { most: 100_000, of: 'defined names' },
    merges: { most: 500_000, of: 'merged ranges of a sheet' },
    validations: { most: 100_000, of: 'data validations of a sheet' },
    elements: { most: 1_000_000, of: 'other elements of a sheet, or of any other part' },
    xmlDepth: { most: 256, of: 'elements inside one another' },
    memoryMegabytes: { most: 1024, of: 'megabytes of memory that reading takes beside the file itself' },
    stallSeconds: { most: 30, of: 'seconds without a sign of life from the reader' },
  },
  csv: {
    fieldLength: { most: 1_000_000, of: 'characters of one field' },
    recordLength: { most: 16 * MEGABYTE, of: 'characters of one record' },
    columns: { most: 16_384, of: 'fields of one record' },
    records: { most: 10_000_000, of: 'records, the header among them' },
  },
  json: {
    fileBytes: { most: 256 * MEGABYTE, of: 'bytes of the file' },
    depth: { most: 32, of: 'lists and objects inside one another' },
    records: { most: 1_048_576, of: 'inspections' },
    columns: { most: 16_384, of: 'different keys' },
    cells: { most: 50_000_000, of: 'inspections times different keys' },
    fieldLength: { most: 1_000_000, of: 'characters of one value' },
  },
} as const satisfies Record<string, Record<string, Cap>>;

type Format = keyof typeof INPUT_CAPS;
/** The caps of one format, each a number. */
type CapsOf<F extends Format> = { readonly [Name in keyof (typeof INPUT_CAPS)[F]]: number };
/** The caps of a workbook. */
export type XlsxCaps = CapsOf<'xlsx'>;
/** The caps of a CSV or TSV file. */
export type CsvCaps = CapsOf<'csv'>;
/** The caps of a JSON file. */
export type JsonCaps = CapsOf<'json'>;

/** Caps that are set otherwise, by format; what is left out keeps its default. */
export interface InputCaps {
  readonly xlsx?: Partial<XlsxCaps>;
  readonly csv?: Partial<CsvCaps>;
  readonly json?: Partial<JsonCaps>;
}

/**
 * All caps of a format, some of them set otherwise.
 *
 * @throws TreadlebookError `usage` for a cap that does not exist, or that is no number above zero
 * @example capsOf('csv', { columns: 50 }).columns // 50
 */
export function capsOf<F extends Format>(format: F, changes: Partial<CapsOf<F>> = {}): CapsOf<F> {
  const caps: Record<string, number> = {};
  for (const [name, { most }] of Object.entries<Cap>(INPUT_CAPS[format])) caps[name] = most;
  for (const [name, value] of Object.entries<unknown>(changes)) {
    if (value === undefined) continue;
    if (!Object.hasOwn(caps, name)) throw unknownCap(`${format}.${name}`);
    if (typeof value !== 'number' || !(value > 0)) throw new TreadlebookError({ code: 'usage', where: `cap ${format}.${name}`, what: `${String(value)} is no number above zero`, mend: 'give one' });
    caps[name] = value;
  }
  return caps as CapsOf<F>;
}

/** The error for a cap that does not exist, with the nearest that does. */
export function unknownCap(name: string): TreadlebookError {
  const known = Object.entries(INPUT_CAPS).flatMap(([format, caps]) => Object.keys(caps).map((cap) => `${format}.${cap}`));
  const near = nearestName(name, known);
  return new TreadlebookError({ code: 'usage', where: `cap ${name}`, what: 'there is no such cap', mend: near === null ? `the caps are ${known.join(', ')}` : `did you mean ${near}?` });
}

/** What to do about a file beyond a cap. */
export function raiseCap(cap: string, most: number): string {
  return `if you trust the file, raise the cap ${cap} above ${most}`;
}
