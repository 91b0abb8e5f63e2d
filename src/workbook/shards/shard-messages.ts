import type { FleetState, SummaryOptions } from '../../fleet/fleet-summariser.js';
import type { LimitSet } from '../../limits/limit-set.js';
import type { Verdict } from '../../limits/verdict.js';
import type { ColumnRole } from '../../readings/find-header.js';
import type { Inspection } from '../../readings/inspection.js';
import type { Problem } from '../../readings/problem.js';
import type { SeenRows } from '../../readings/seen-rows.js';
import type { ErrorDetails } from '../../util/treadlebook-error.js';
import type { OpenOptions } from '../open-readings.js';
import type { FleetCounts } from '../opened-fleet.js';
import type { SourceInfo } from '../source-info.js';

/** One file, by its number among all. */
export interface ShardFile {
  readonly index: number;
  readonly path: string;
}

/** What a thread is started with: its files, and how they are opened. */
export interface ShardStart {
  readonly files: readonly ShardFile[];
  readonly set: LimitSet;
  readonly open: Pick<OpenOptions, 'dateOrder' | 'map' | 'caps' | 'units'>;
}

/** What is wanted of the inspections: lines of CSV, the inspections with their verdicts, or nothing of them. */
export type WantedOfRows = { readonly as: 'csv'; readonly delimiter: string } | { readonly as: 'inspections' } | { readonly as: 'nothing' };

/** An inspection whose verdict is known. */
export type JudgedInspection = readonly [inspection: Inspection, verdict: Verdict];

/** What was read of one file, once it is read. */
export interface ShardOutcome {
  /** The last row that an inspection stands on. */
  readonly lastRow: number;
  readonly counts: FleetCounts;
  readonly sheet: string;
  readonly isReshaped: boolean;
  readonly problems: readonly Problem[];
  readonly notes: readonly string[];
  readonly seen: SeenRows;
  readonly source: SourceInfo;
  /** Null where no figures are wanted. */
  readonly summary: FleetState | null;
}

export type ToShard =
  /** The columns of every file: evaluate. */
  | { readonly kind: 'evaluate'; readonly columns: readonly (readonly ColumnRole[])[]; readonly wanted: WantedOfRows; readonly period: Required<SummaryOptions>; readonly summarise: boolean }
  /** A message of rows was taken. */
  | { readonly kind: 'taken' };

export type FromShard =
  | { readonly kind: 'columns'; readonly index: number; readonly columns: readonly ColumnRole[] }
  | { readonly kind: 'csv'; readonly index: number; readonly text: Uint8Array }
  | { readonly kind: 'inspections'; readonly index: number; readonly inspections: readonly JudgedInspection[] }
  | { readonly kind: 'progress'; readonly inspections: number; readonly bytes: number }
  | { readonly kind: 'end'; readonly index: number; readonly outcome: ShardOutcome }
  | { readonly kind: 'refused'; readonly index: number; readonly error: Omit<ErrorDetails, 'cause'> | string };
