import { plainValue } from '../util/raw-table.js';
import type { ColumnPlace, ComparedColumn } from './compare-columns.js';
import { compareLooseTexts, compareTexts, sameNumber, trimmed } from './compare-texts.js';
import { entryText } from './entry-text.js';
import { HALF_WIDTH, type Field } from './field.js';
import type { Entry, Inspection } from './inspection.js';
import { toPsi, type PressureUnit } from './pressure-units.js';

/**
 * How two cells differ: `value`, both were understood and mean different things; `blank`, one of them says nothing;
 * `spelling`, texts that differ in case and spaces (or in the form of quotes and hyphens) alone; `not understood`, at least one could not be understood.
 */
export const DIFFERENCE_KINDS = ['value', 'blank', 'spelling', 'not understood'] as const;
export type DifferenceKind = (typeof DIFFERENCE_KINDS)[number];

/** Shares by which two pressures in psi, and two other numbers, may differ and still be one. */
const PRESSURE_TOLERANCE = 1e-6;
const NUMBER_TOLERANCE = 1e-9;

/** Compares the cells of a column in two inspections; the position of the row's pressure unit must be given. */
export class CellComparer {
  constructor(private readonly unitAt: number) {}

  /**
   * How the two cells differ, `same` when they mean the same, null when both are blank. Pressures are compared in psi;
   * a blank and the value that a blank stands for are the same.
   */
  compare(column: ComparedColumn, a: Inspection, b: Inspection): DifferenceKind | 'same' | null {
    const { field } = column;
    return field === null ? compareExtra(column, a, b) : this.compareField(column, field, a, b);
  }

  /** The text of a cell as found, or what was understood of it in plain form; empty when it is blank. */
  text(column: ComparedColumn, place: ColumnPlace, inspection: Inspection): string {
    const { field, position } = column;
    if (field === null) return extraText(place, inspection);
    return inspection.asFound.get(field.name) ?? entryText(field, inspection.values[position] ?? null);
  }

  /** What was understood of a cell of a field, pressures in psi: `104.427202 psi`. */
  meaning(column: ComparedColumn, inspection: Inspection): string {
    const { field, position, halfWidth } = column;
    if (field === null) return '';
    if (inspection.notRead.includes(field.name)) return 'not understood';
    const value = inspection.values[position] ?? null;
    const plain = typeof value === 'number' && field.kind === 'pressure' ? `${this.inPsi(value, inspection)} psi` : entryText(field, value);
    const half = halfWidthOf(field, halfWidth, inspection);
    return half === null ? plain : `${plain} ± ${typeof half === 'number' ? `${this.inPsi(half, inspection)} psi` : half}`.trim();
  }

  /** A word for what a cell means; cells that mean the same nearly always have the same word. */
  token(column: ComparedColumn, place: ColumnPlace, inspection: Inspection): string {
    const { field, position } = column;
    if (field === null) return trimmed(extraText(place, inspection));
    const value = inspection.values[position] ?? null;
    if (value === null) return inspection.notRead.includes(field.name) ? `?${trimmed(inspection.asFound.get(field.name) ?? '')}` : '';
    if (value === field.whenBlank) return '';
    if (typeof value === 'number') return (field.kind === 'pressure' ? toPsi(value, this.unitOf(inspection)) : value).toPrecision(6);
    return trimmed(String(value));
  }

  private compareField(column: ComparedColumn, field: Field, a: Inspection, b: Inspection): DifferenceKind | 'same' | null {
    const { position, halfWidth } = column;
    const [left, right] = [a.values[position] ?? null, b.values[position] ?? null];
    if (left === null && right === null && a.asFound.size === 0 && b.asFound.size === 0 && halfWidth < 0) return null;
    const [lost, alsoLost] = [isLost(a, left, field), isLost(b, right, field)];
    if (lost && alsoLost) {
      const likeness = compareTexts(a.asFound.get(field.name) ?? '', b.asFound.get(field.name) ?? '');
      return likeness === 'value' ? 'not understood' : likeness;
    }
    if (lost || alsoLost) return (lost ? right : left) === null ? 'blank' : 'not understood';
    const [half, otherHalf] = [halfWidthOf(field, halfWidth, a), halfWidthOf(field, halfWidth, b)];
    if (left === null && right === null) {
      if (half === null && otherHalf === null) return a.asFound.has(field.name) || b.asFound.has(field.name) ? 'same' : null;
    } else if (left === null || right === null) {
      return (left ?? right) === field.whenBlank ? 'same' : 'blank';
    } else {
      const likeness = this.compareValues(field, left, right, a, b);
      if (likeness !== 'same') return likeness;
    }
    return this.sameHalfWidth(half, otherHalf, a, b) ? 'same' : (half === null || otherHalf === null) && left === null ? 'blank' : 'value';
  }

  private compareValues(field: Field, left: Exclude<Entry, null>, right: Exclude<Entry, null>, a: Inspection, b: Inspection): DifferenceKind | 'same' {
    if (typeof left === 'number' && typeof right === 'number') {
      const [x, y] = field.kind === 'pressure' ? [toPsi(left, this.unitOf(a)), toPsi(right, this.unitOf(b))] : [left, right];
      return (field.kind === 'pressure' ? Math.abs(x - y) <= PRESSURE_TOLERANCE * Math.max(Math.abs(x), Math.abs(y)) : sameNumber(x, y, NUMBER_TOLERANCE)) ? 'same' : 'value';
    }
    if (field.kind === 'text') return compareTexts(String(left), String(right));
    return left === right ? 'same' : 'value';
  }

  private sameHalfWidth(left: number | string | null, right: number | string | null, a: Inspection, b: Inspection): boolean {
    if (typeof left !== 'number' || typeof right !== 'number') return left === right;
    return sameNumber(toPsi(left, this.unitOf(a)), toPsi(right, this.unitOf(b)), PRESSURE_TOLERANCE);
  }

  private unitOf(inspection: Inspection): PressureUnit {
    return (inspection.values[this.unitAt] as PressureUnit | null) ?? 'psi';
  }

  private inPsi(value: number, inspection: Inspection): number {
    return Number(toPsi(value, this.unitOf(inspection)).toPrecision(9));
  }
}

function isLost(inspection: Inspection, value: Entry, field: Field): boolean {
  return value === null && inspection.notRead.length > 0 && inspection.notRead.includes(field.name);
}

/** The half-width of a reading, the text of one that was not understood, or null. */
function halfWidthOf(field: Field, position: number, inspection: Inspection): number | string | null {
  if (position < 0) return null;
  const value = inspection.values[position] ?? null;
  if (typeof value === 'number') return value;
  return inspection.asFound.size === 0 ? null : (inspection.asFound.get(field.name + HALF_WIDTH) ?? null);
}

function compareExtra(column: ComparedColumn, a: Inspection, b: Inspection): DifferenceKind | 'same' | null {
  const [left, right] = [extraText(column.a, a), extraText(column.b, b)];
  const [blank, alsoBlank] = [left.trim() === '', right.trim() === ''];
  if (blank && alsoBlank) return null;
  if (blank || alsoBlank) return 'blank';
  const likeness = compareLooseTexts(left, right);
  const oneIsBoolean = likeness === 'spelling' && [a.extra[column.a.extra], b.extra[column.b.extra]].some((cell) => typeof cell === 'boolean');
  return oneIsBoolean ? 'same' : likeness;
}

function extraText({ extra }: ColumnPlace, inspection: Inspection): string {
  return extra < 0 ? '' : String(plainValue(inspection.extra[extra]) ?? '');
}
