import type { Inspection } from '../readings/inspection.js';
import type { JoinedTables } from './join-tables.js';

/**
 * Tells which inspections of further tables the first does not hold yet. An inspection that is the same in every entry is
 * held already; one without an `inspection_id` is the same as one that has it and agrees in all else.
 */
export class NewInspections {
  /** The rows that were passed over so far, as rows count on. */
  readonly passedOver = new Set<number>();
  private readonly held = new Set<string>();

  constructor(private readonly tables: Pick<JoinedTables, 'tableOf'>) {}

  /** Takes the inspections in their order, those of the first table first. */
  isNew({ row, values }: Inspection): boolean {
    const [id, ...others] = values;
    const rest = JSON.stringify(others);
    const named = `${JSON.stringify(id)} ${rest}`;
    if (this.tables.tableOf(row) === 0) {
      this.held.add(rest).add(named);
      return true;
    }
    const isHeld = this.held.has(id === null ? rest : named);
    if (isHeld) this.passedOver.add(row);
    return !isHeld;
  }
}
