import type { CellOrigin, RawCell } from '../util/raw-table.js';
import { isBarePressure, isBlankCell, cellText, sameCell, withPressureUnit } from './checklist-cell.js';
import type { PlacedCell } from './checklist-reshaped-table.js';
import { parsePressureUnit, type PressureUnit } from './pressure-units.js';

interface FieldCell extends PlacedCell {
  /** The unit that a header, a label or a cell beside it gives this pressure. */
  readonly unit: PressureUnit | null;
  readonly isPressure: boolean;
}

const TELLS_APART: ReadonlySet<string> = new Set(['inspection_id', 'unit', 'inspected_on', 'pressure_unit']);
const UNIT_FIELD = 'pressure_unit';

/** One inspection that is being put together from scattered cells. */
export class InspectionDraft {
  private readonly fields = new Map<string, FieldCell>();
  private readonly extras = new Map<string, PlacedCell>();
  /** Pressures that labels name; they alone are no inspection. */
  private readonly suggested = new Map<string, FieldCell>();

  /** @param number the first row that it comes from */
  constructor(readonly number: number) {}

  /** True where a pressure has been placed. */
  get hasReadings(): boolean {
    return [...this.fields.values()].some(({ isPressure }) => isPressure);
  }

  /** The cell of a field, where there is one. */
  cellOf(field: string): RawCell {
    return this.fields.get(field)?.cell ?? null;
  }

  /** True where nothing has been placed but what tells one inspection from another. */
  get isBare(): boolean {
    return this.extras.size === 0 && [...this.fields.keys()].every((name) => TELLS_APART.has(name));
  }

  /**
   * Places a cell in fields that are free. One that says the same as what is there is the same; one that differs in any of
   * the fields is placed in none.
   */
  place(names: readonly string[], cell: RawCell, origin: CellOrigin | null, kind: { readonly isPressure: boolean; readonly unit: PressureUnit | null }): 'placed' | 'same' | 'differs' {
    const unit = kind.isPressure ? kind.unit : null;
    const held = names.map((name) => this.fields.get(name));
    if (held.some((other) => other && !(sameCell(other.cell, cell) && other.unit === unit))) return 'differs';
    if (held.every((other) => other !== undefined)) return 'same';
    for (const [index, name] of names.entries()) if (!held[index]) this.fields.set(name, { cell: name === UNIT_FIELD ? unitName(cell) : cell, origin, unit, isPressure: kind.isPressure });
    return 'placed';
  }

  /** A pressure that a label names. It is taken where no cell says what it is. */
  suggest(name: string, value: number, unit: PressureUnit | null): void {
    if (!this.suggested.has(name)) this.suggested.set(name, { cell: value, origin: null, unit, isPressure: true });
  }

  /** Places a cell in a column that is not ours. */
  placeExtra(header: string, cell: RawCell, origin: CellOrigin): 'placed' | 'same' | 'differs' {
    const held = this.extras.get(header);
    if (held) return sameCell(held.cell, cell) ? 'same' : 'differs';
    this.extras.set(header, { cell, origin });
    return 'placed';
  }

  /**
   * The cells, once all are placed. Where the pressures name one unit, it is the unit of the inspection; a pressure in
   * another unit gets it written behind. Pressures without a unit count to the one that most of the others name.
   */
  finish(): { readonly fields: ReadonlyMap<string, PlacedCell>; readonly extras: ReadonlyMap<string, PlacedCell>; readonly assumedUnit: PressureUnit | null } {
    const all = new Map([...this.suggested, ...this.fields]);
    const fields = new Map<string, PlacedCell>(all);
    const pressures = [...all].filter(([, { isPressure, cell }]) => isPressure && isBarePressure(cell));
    const stated = pressures.filter(([, { unit }]) => unit !== null);
    const units = new Set(stated.map(([, { unit }]) => unit));
    const common = mostFrequent(stated.map(([, { unit }]) => unit!));
    const withCommon = stated.filter(([, { unit }]) => unit === common).length;
    const someUnstated = stated.length < pressures.length;
    let rowUnit = parsePressureUnit(cellText(this.cellOf(UNIT_FIELD)));
    let assumedUnit: PressureUnit | null = null;
    if (!this.fields.has(UNIT_FIELD) && common !== null && common !== 'psi' && withCommon * 2 > pressures.length && (units.size === 1 || !someUnstated)) {
      rowUnit = common;
      if (someUnstated) assumedUnit = common;
      fields.set(UNIT_FIELD, { cell: common, origin: null });
    }
    for (const [name, { cell, unit, origin }] of stated) if (unit !== (rowUnit ?? 'psi')) fields.set(name, { cell: withPressureUnit(cell, unit!), origin });
    return { fields, extras: this.extras, assumedUnit };
  }
}

function mostFrequent(units: readonly PressureUnit[]): PressureUnit | null {
  const count = (unit: PressureUnit): number => units.filter((other) => other === unit).length;
  return units.reduce<PressureUnit | null>((best, unit) => (best !== null && count(best) >= count(unit) ? best : unit), null);
}

function unitName(cell: RawCell): RawCell {
  return isBlankCell(cell) ? cell : (parsePressureUnit(cellText(cell)) ?? cell);
}
