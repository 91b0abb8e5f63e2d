import type { Evaluation } from '../fleet/evaluation.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';

/** The columns of Readings whose names lists of a workbook for entry repeat. */
export type ListedColumn = 'unit' | 'site' | 'inspector' | 'leak_place';

/** The names in columns of Readings in the order in which they first appear, without regard to case. */
export class AppearedNames {
  private readonly names: Readonly<Record<ListedColumn, Map<string, string>>> = { unit: new Map(), site: new Map(), inspector: new Map(), leak_place: new Map() };

  constructor(private readonly plan: LimitPlan) {}

  add({ inspection }: Evaluation): void {
    for (const [field, seen] of Object.entries(this.names)) {
      const value = inspection.values[this.plan.dictionary.position.get(field)!];
      if (typeof value === 'string' && !seen.has(value.toLowerCase())) seen.set(value.toLowerCase(), value);
    }
  }

  of(column: ListedColumn): string[] {
    return [...this.names[column].values()];
  }
}
