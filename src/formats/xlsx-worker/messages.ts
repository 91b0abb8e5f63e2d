import type { ErrorDetails } from '../../util/treadlebook-error.js';
import type { HiddenColumns, OpenXlsxOptions, XlsxBook, XlsxFinding, XlsxSheet } from '../read-xlsx.js';

/** What the worker is given to open. */
export interface BookToOpen {
  /** In shared memory, so that nothing is copied. */
  readonly bytes: Uint8Array;
  readonly options: OpenXlsxOptions;
}

/** Which way the rows of a sheet are walked: the methods of `XlsxSheet`. */
export type WalkKind = keyof Pick<XlsxSheet, 'table' | 'rowsWithFormulas' | 'stored'>;

/** What the worker is told. */
export type ToWorker =
  | ({ readonly kind: 'open' } & BookToOpen)
  | { readonly kind: 'walk'; readonly walk: number; readonly sheet: number; readonly as: WalkKind }
  /** The rows of one batch were used up. */
  | { readonly kind: 'taken'; readonly walk: number }
  | { readonly kind: 'stop'; readonly walk: number }
  /** Nothing more is asked of the workbook. */
  | { readonly kind: 'close' };

/** An open workbook without its rows. */
export type BookFacts = Pick<XlsxBook, 'date1904' | 'definedNames' | 'application' | 'findings'> & {
  readonly sheets: readonly Pick<XlsxSheet, 'name' | 'state'>[];
};

/**
 * Rows of one walk, in order, as `XlsxSheet` gives them, for structured cloning to copy. Only long shared strings are left out of their cells and sent
 * once, so that a few of them in many cells cannot fill the memory on this side.
 */
export interface Batch {
  readonly kind: 'batch';
  readonly walk: number;
  readonly rows: readonly unknown[];
  readonly hiddenColumns: readonly HiddenColumns[];
  /** Long shared strings that no batch held before, by their number; the rows tell where they stand. */
  readonly strings: ReadonlyMap<number, string>;
  /** Findings that were added since the last batch. */
  readonly findings: readonly XlsxFinding[];
  /** True for the last one. */
  readonly end: boolean;
}

/** What the worker tells. */
export type FromWorker =
  | { readonly kind: 'opened'; readonly book: BookFacts }
  | Batch
  /** `walk` is null where the workbook cannot be opened. `inOrder` is false where the reader itself is at fault. */
  | { readonly kind: 'refused'; readonly walk: number | null; readonly inOrder: boolean; readonly error: Omit<ErrorDetails, 'cause'> }
  /** The worker is at work, and nothing is ready yet. */
  | { readonly kind: 'busy' };
