import type { Evaluation } from './evaluation.js';
import type { UnitSummary } from './summary.js';

/** Gathers the inspections of one unit. The latest is the one of the latest date; of several on that date, the last in the table. */
export class UnitTally {
  private inspections = 0;
  private failed = 0;
  private latest: { on: string; evaluation: Evaluation } | null = null;
  private now: { on: string; share: number } | null = null;
  private readonly worst: { released: number | null; applied: number | null; share: number | null } = { released: null, applied: null, share: null };
  private kind: string | null = null;
  private site: string | null = null;

  constructor(private readonly unit: string) {}

  add(evaluation: Evaluation, share: number | null, kind: string | null, site: string | null): void {
    this.inspections += 1;
    if (evaluation.verdict === 'fail') this.failed += 1;
    this.worst.released = higher(this.worst.released, loss(evaluation, 'released_loss'));
    this.worst.applied = higher(this.worst.applied, loss(evaluation, 'applied_loss'));
    this.worst.share = higher(this.worst.share, share);
    const on = evaluation.inspected_on;
    if (on !== null && share !== null && (this.now === null || on >= this.now.on)) this.now = { on, share };
    if (on === null || (this.latest !== null && on < this.latest.on)) return;
    this.latest = { on, evaluation };
    this.kind = kind;
    this.site = site;
  }

  result(): UnitSummary {
    const { latest, worst } = this;
    return {
      unit: this.unit,
      vehicle_kind: this.kind,
      site: this.site,
      inspections: this.inspections,
      failed: this.failed,
      latest_on: latest?.on ?? null,
      latest_verdict: latest?.evaluation.verdict ?? null,
      latest_released_loss: latest && loss(latest.evaluation, 'released_loss'),
      latest_applied_loss: latest && loss(latest.evaluation, 'applied_loss'),
      share_now: this.now?.share ?? null,
      worst_released_loss: worst.released,
      worst_applied_loss: worst.applied,
      worst_share: worst.share,
    };
  }
}

function loss(evaluation: Evaluation, measure: string): number | null {
  const value = evaluation.measures[measure];
  return typeof value === 'number' ? value : null;
}

function higher(a: number | null, b: number | null): number | null {
  if (a === null) return b;
  return b === null ? a : Math.max(a, b);
}
