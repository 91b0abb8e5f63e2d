import { quantileSeq } from 'mathjs/number';
import type { Evaluation } from './evaluation.js';
import { FailRateCounter } from './fail-rate-counter.js';
import type { MonthSummary } from './summary.js';

/** Gathers the inspections of one month. */
export class MonthTally {
  private inspections = 0;
  private readonly rate = new FailRateCounter();
  private readonly losses: Readonly<Record<'released_loss' | 'applied_loss', number[]>> = { released_loss: [], applied_loss: [] };

  constructor(private readonly month: string) {}

  add(evaluation: Evaluation): void {
    this.inspections += 1;
    this.rate.add(evaluation.verdict);
    for (const measure of ['released_loss', 'applied_loss'] as const) {
      const value = evaluation.measures[measure];
      if (typeof value === 'number') this.losses[measure].push(value);
    }
  }

  result(): MonthSummary {
    return {
      month: this.month,
      inspections: this.inspections,
      ...this.rate.result(),
      released_loss_median: quantile(this.losses.released_loss, 0.5),
      released_loss_p90: quantile(this.losses.released_loss, 0.9),
      applied_loss_median: quantile(this.losses.applied_loss, 0.5),
      applied_loss_p90: quantile(this.losses.applied_loss, 0.9),
    };
  }
}

/** The quantile by linear interpolation (type 7 of Hyndman and Fan, as a spreadsheet's PERCENTILE). Sorted first, for the library else picks at random among values that differ in their last digits alone. */
function quantile(values: number[], share: number): number | null {
  return values.length === 0 ? null : (quantileSeq(values.toSorted((a, b) => a - b), share, true) as number);
}
