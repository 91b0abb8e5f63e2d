/** Something in a workbook that was left alone: never run, fetched or opened. */
export interface XlsxFinding {
  /** `hidden sheet`: its rows are read where they are asked for. `outside`: it reaches beyond the table of cells. */
  readonly kind: 'outside' | 'hidden sheet';
  /** The sheet; empty for the workbook as a whole. */
  readonly sheet: string;
  /** The cell, such as `C4`; empty where no single cell is meant. */
  readonly cell: string;
  /** A plain sentence. */
  readonly text: string;
}
