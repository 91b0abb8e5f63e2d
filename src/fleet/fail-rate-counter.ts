import type { Verdict } from '../limits/verdict.js';
import { wilsonInterval } from '../statistics/wilson-interval.js';
import type { FailRate } from './fail-rate.js';

/** What a counter of verdicts has counted. */
export type FailRateCounts = Readonly<Record<'tested' | 'failed' | 'recheck', number>>;

/** Counts verdicts. */
export class FailRateCounter {
  private tested = 0;
  private failed = 0;
  private recheck = 0;

  add(verdict: Verdict): void {
    if (verdict === 'pass' || verdict === 'fail') this.tested += 1;
    if (verdict === 'fail') this.failed += 1;
    if (verdict === 'recheck') this.recheck += 1;
  }

  /** What was counted so far, for another counter to merge. */
  counts(): FailRateCounts {
    return { tested: this.tested, failed: this.failed, recheck: this.recheck };
  }

  /** Adds what another one counted. */
  merge(other: FailRateCounts): void {
    this.tested += other.tested;
    this.failed += other.failed;
    this.recheck += other.recheck;
  }

  result(): FailRate {
    const interval = wilsonInterval(this.failed, this.tested);
    return {
      tested: this.tested,
      failed: this.failed,
      recheck: this.recheck,
      rate: this.tested === 0 ? null : this.failed / this.tested,
      low: interval?.low ?? null,
      high: interval?.high ?? null,
    };
  }
}
