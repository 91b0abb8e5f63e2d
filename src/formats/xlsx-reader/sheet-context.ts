import type { XlsxCaps } from '../input-caps.js';

/** What a sheet's cells refer to, and the bounds they are held to. */
export interface SheetContext {
  readonly caps: XlsxCaps;
  readonly strings: readonly string[];
  /** By cell style: the code of a date or time format, else null. */
  readonly dateFormats: readonly (string | null)[];
  /** The file and the sheet, for errors. */
  readonly where: string;
  /** Whether each row tells which of its long texts are shared strings. */
  readonly marksShared: boolean;
  /** Called with every formula that might reach beyond the workbook. */
  readonly onFormula: (text: string, cell: string) => void;
  readonly formulas: 'left out' | 'written out' | 'as stored';
}
