import type { Tree, ValueType } from '../expressions/tree.js';

/** How a computed column looks in the sheet. */
export type ComputedFormat = 'verdict' | 'number' | 'share' | 'chance' | 'sentence' | 'text';

/** The bands of computed columns, in the order of the sheet. */
export const COMPUTED_BANDS = ['result', 'checks', 'measures', 'diagnosis', 'reasons', 'working'] as const;
export type ComputedBand = (typeof COMPUTED_BANDS)[number];

/** One computed column of the sheet Readings: a tree from which both the stored value and the live formula come. */
export interface ComputedColumn {
  /** Its name among the names of the row program. */
  readonly id: string;
  /** Its name in the header. */
  readonly name: string;
  readonly title: string;
  readonly band: ComputedBand;
  readonly type: ValueType;
  readonly format: ComputedFormat;
  readonly width: number;
  /** Decimals shown of a number; the cell holds them all. */
  readonly decimals: number;
  /** The tree; null for the columns that read cells in a way of their own (see `working-columns.ts`). */
  readonly tree: Tree | null;
}
