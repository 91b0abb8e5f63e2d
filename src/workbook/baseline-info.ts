import type { OpenPeriod, PeriodCounts } from './period-counts.js';
import type { SourceInfo } from './source-info.js';

/** What is known of a baseline beside its rates. */
export interface BaselineInfo {
  readonly source: SourceInfo;
  /** The period of it that is counted: that of its own summaries where it is a workbook with one; null is open. */
  readonly period: OpenPeriod;
  readonly counts: PeriodCounts;
  /** Cells of it that were not taken as they stood. */
  readonly problems: number;
  /** How many of the inspections that are counted now are counted in the baseline too. */
  readonly shared: number;
  /** The limit set that the baseline, a workbook, says it was evaluated with, where that is another one or another version; else null. */
  readonly otherLimits: string | null;
}
