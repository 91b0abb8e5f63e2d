import { cellText, timeUnitOf } from './checklist-cell.js';
import type { Units } from './checklist-collector.js';
import type { LocatedCell } from './checklist-lines.js';
import type { Field } from './field.js';
import { parsePressureUnit } from './pressure-units.js';

/** The cells to the right of a label, each for what it is. */
export interface SplitCells {
  readonly value: LocatedCell;
  /** The unit, or how the value is written, where it has a cell of its own. */
  readonly unitCells: readonly LocatedCell[];
  readonly units: Units;
  readonly remarks: readonly LocatedCell[];
}

/** Tells the value from its unit and from remarks: the first cell that is no unit is the value, whatever the order. */
export function splitCells(cells: readonly LocatedCell[], field: Field): SplitCells {
  const [only] = cells;
  if (cells.length === 1) return { value: only!, unitCells: [], units: { unit: null, timeUnit: null }, remarks: [] };
  const unitCell = cells.slice(0, 2).find(({ cell }) => isUnitOf(cellText(cell), field));
  const others = cells.filter((one) => one !== unitCell);
  const [value, ...remarks] = others;
  const text = cellText(unitCell?.cell);
  return {
    value: value!,
    unitCells: unitCell ? [unitCell] : [],
    units: { unit: field.kind === 'pressure' && unitCell ? parsePressureUnit(text) : null, timeUnit: field.kind === 'time' ? timeUnitOf(text) : null },
    remarks,
  };
}

function isUnitOf(text: string, field: Field): boolean {
  if (field.kind === 'pressure') return parsePressureUnit(text) !== null;
  if (field.kind === 'time') return timeUnitOf(text) !== null || /^(?:m+|min):s+(?:ec)?$/i.test(text);
  return field.unitWords?.some((word) => word.toLowerCase() === text.toLowerCase()) ?? false;
}
