import type { Evaluation } from '../fleet/evaluation.js';
import { unitKey } from '../readings/unit-key.js';

type Named = Pick<Evaluation, 'inspection_id' | 'unit' | 'inspected_on'>;

/**
 * Remembers the inspections of one table, to tell which of another are the same: those of one `inspection_id` and unit;
 * where one side has no `inspection_id`, those of one unit and date. The unit stands beside the `inspection_id` because
 * some offices number every table from 1.
 */
export class SeenInspections {
  private readonly byId = new Set<string>();
  private readonly byDate = new Set<string>();
  /** Those without an `inspection_id`. */
  private readonly nameless = new Set<string>();

  constructor(private readonly units: 'exact' | 'folded' = 'exact') {}

  add(evaluation: Named): void {
    const [id, date] = [this.idOf(evaluation), this.dateOf(evaluation)];
    if (id !== null) this.byId.add(id);
    if (date === null) return;
    this.byDate.add(date);
    if (id === null) this.nameless.add(date);
  }

  has(evaluation: Named): boolean {
    const [id, date] = [this.idOf(evaluation), this.dateOf(evaluation)];
    if (id !== null && this.byId.has(id)) return true;
    return date !== null && (id === null ? this.byDate : this.nameless).has(date);
  }

  private idOf({ inspection_id: id, unit }: Named): string | null {
    return id === null ? null : JSON.stringify([id.toLowerCase(), this.unitOf(unit)]);
  }

  private dateOf({ unit, inspected_on: on }: Named): string | null {
    return unit === null || on === null ? null : JSON.stringify([this.unitOf(unit), on]);
  }

  private unitOf(unit: string | null): string {
    return unit === null ? '' : this.units === 'folded' ? unitKey(unit) : unit.toLowerCase();
  }
}
