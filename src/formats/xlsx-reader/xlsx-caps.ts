/** The bounds within which a workbook is read. Counts are what is really found, not what the file declares. */
export interface XlsxCaps {
  /** Entries of the zip. */
  readonly entries: number;
  /** Inflated bytes of one part; parts that are neither a sheet nor the shared strings may hold 64 MiB of them at most. */
  readonly partBytes: number;
  /** Inflated bytes of all parts that are read. */
  readonly totalBytes: number;
  readonly rows: number;
  readonly columns: number;
  /** Cells of one sheet, with the blanks that a row has before its last value. */
  readonly cells: number;
  readonly sharedStrings: number;
  /** Characters of one text or formula. */
  readonly stringLength: number;
  /** Characters of all formulas of one sheet that are written out from shared ones. */
  readonly expandedFormulas: number;
  readonly xmlDepth: number;
  /** Elements of a part that is neither a sheet nor the shared strings; elements of a sheet that are neither rows nor cells. */
  readonly listLength: number;
}

/** Rows, columns and text length are a spreadsheet's own limits; the rest is ample for a table of a million rows. */
export const XLSX_CAPS: XlsxCaps = {
  entries: 10_000,
  partBytes: 512 * 1024 * 1024,
  totalBytes: 1024 * 1024 * 1024,
  rows: 1_048_576,
  columns: 16_384,
  cells: 50_000_000,
  sharedStrings: 5_000_000,
  stringLength: 32_767,
  expandedFormulas: 4 * 1024 * 1024 * 1024,
  xmlDepth: 256,
  listLength: 1_000_000,
};

/** The caps with some of them set otherwise; what is undefined keeps its default. */
export function xlsxCaps(changes: Partial<XlsxCaps>): XlsxCaps {
  const pick = (key: keyof XlsxCaps): number => changes[key] ?? XLSX_CAPS[key];
  return {
    entries: pick('entries'),
    partBytes: pick('partBytes'),
    totalBytes: pick('totalBytes'),
    rows: pick('rows'),
    columns: pick('columns'),
    cells: pick('cells'),
    sharedStrings: pick('sharedStrings'),
    stringLength: pick('stringLength'),
    expandedFormulas: pick('expandedFormulas'),
    xmlDepth: pick('xmlDepth'),
    listLength: pick('listLength'),
  };
}
