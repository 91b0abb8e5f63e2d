import { cellText, sameCell } from './checklist-cell.js';
import { shorten, type Collector } from './checklist-collector.js';
import { NO_CONTEXT, type LabelContext } from './checklist-facet-fields.js';
import { foldLabel } from './checklist-fold-label.js';
import { headingContext, isNumberedHeading, looksLikeHeading } from './checklist-headings.js';
import type { InspectionDraft } from './checklist-inspection-draft.js';
import type { CircuitName } from './checklist-label-facets.js';
import { inlineLabel, type ChecklistLine, type ChecklistRow, type LocatedCell } from './checklist-lines.js';
import { placeLine, useAll } from './checklist-place-line.js';
import { parseCircuit } from './long-form-circuit.js';
import { parsePressureUnit } from './pressure-units.js';

const HEAD_LABELS = new Set(['item', 'items', 'check', 'reading', 'field', 'what', 'question', 'description', 'test', 'name', 'label']);
const HEAD_VALUES = new Set(['value', 'values', 'reading', 'readings', 'result', 'results', 'answer', 'entry', 'found', 'unit', 'units', 'remark', 'remarks', 'comment', 'comments', 'notes']);
/** Fields whose text may stand in the line below their label. */
const WRITTEN_BELOW = new Set(['notes', 'defects', 'leak_place']);

/** Reads forms with one label a line, one inspection below the other. */
export class StackedForm {
  private draft: InspectionDraft;
  private context: LabelContext = NO_CONTEXT;
  private section = '';
  private circuits = new Map<number, CircuitName>();
  /** The first line and the first label of the inspection, folded: when one comes again, the next inspection begins. */
  private firstLine: string | null = null;
  private firstLabel: string | null = null;
  private unit: string | null = null;
  private numbered = false;
  private afterBlank = false;
  private writtenBelow: { readonly field: string; readonly row: number } | null = null;

  constructor(
    private readonly collector: Collector,
    private readonly rows: readonly (ChecklistRow | null)[],
  ) {
    this.draft = collector.begin(rows.find((row) => row !== null)?.number ?? 1);
  }

  /** Reads all rows. */
  read(): void {
    let last: ChecklistRow | null = null;
    for (const [index, row] of this.rows.entries()) {
      if (row === null) {
        this.afterBlank = true;
        continue;
      }
      if (last === null || row.number <= last.number || this.begins(row, index)) this.begin(row.number);
      this.readRow(row, index);
      this.afterBlank = false;
      last = row;
    }
  }

  private begin(number: number): void {
    this.draft = this.collector.begin(number);
    this.context = NO_CONTEXT;
    this.section = '';
    this.circuits = new Map();
    this.firstLine = this.firstLabel = this.unit = this.writtenBelow = null;
    this.numbered = false;
  }

  private begins(row: ChecklistRow, index: number): boolean {
    const [first] = row.lines;
    if (first && first.cells.length === 0 && isNumberedHeading(first.label) && (this.numbered || this.draft.hasReadings)) return true;
    const folded = row.lines.map(({ label }) => foldLabel(label));
    const again = folded.includes(this.firstLabel ?? '') || (first !== undefined && folded[0] === this.firstLine);
    if (again && this.unitFollows(index)) return true;
    const unit = this.unitIn(row);
    if (this.unit !== null && unit !== null && unit !== '' && !sameCell(unit, this.unit)) return true;
    if (!this.afterBlank || this.unit === null) return false;
    const next = this.unitBelow(index);
    return next !== null && (!this.draft.isBare || !sameCell(next, this.unit));
  }

  /** The unit that a row names; an empty text where its label has no value, null where there is no such label. */
  private unitIn(row: ChecklistRow): string | null {
    for (const { label, cells } of row.lines) {
      const { labels } = this.collector;
      if (labels.named(label)?.name === 'unit' && !isUnitOfPressure(cells[0])) return cellText(cells[0]?.cell);
      const inline = cells.length === 0 ? inlineLabel(label, NO_CONTEXT, labels) : null;
      if (inline && labels.named(inline.label)?.name === 'unit') return inline.value;
    }
    return null;
  }

  /**
   * A first line or label that comes again begins an inspection only if a unit follows before the next one; a second date beside a
   * signature does not. Below a title the first label stands as a matter of course.
   */
  private unitFollows(index: number): boolean {
    if (this.unit === null) return true;
    const startsAnew = (row: ChecklistRow): boolean => row.lines[0] !== undefined && foldLabel(row.lines[0].label) === this.firstLine;
    const isTitle = startsAnew(this.rows[index]!);
    for (let at = index; at < this.rows.length; at++) {
      const row = this.rows[at];
      if (!row) continue;
      if (this.unitIn(row) !== null) return true;
      const comesAgain = startsAnew(row) || (!isTitle && row.lines.some(({ label }) => foldLabel(label) === this.firstLabel));
      if (at > index && comesAgain) return false;
    }
    return false;
  }

  /** The unit that is named between here and the next blank row. */
  private unitBelow(index: number): string | null {
    for (let at = index; at < this.rows.length; at++) {
      const row = this.rows[at]!;
      if (row === null) return null;
      const unit = this.unitIn(row);
      if (unit !== null) return unit;
    }
    return null;
  }

  private readRow(row: ChecklistRow, index: number): void {
    const { collector } = this;
    useAll(collector, row.ordinals);
    this.unit ??= this.unitIn(row);
    this.firstLine ??= row.lines[0] ? foldLabel(row.lines[0].label) : null;
    if (this.readColumnHeads(row)) return;
    for (const line of row.lines) this.readLine(line, row, index);
    for (const { cell, origin } of row.strays) collector.leave(cell, origin, '', 'a label to the left of it');
  }

  /** A row such as `Item | Reading | Unit`, or `Brakes released | Primary | Secondary`. */
  private readColumnHeads({ lines, strays }: ChecklistRow): boolean {
    const { collector } = this;
    const [line] = lines;
    if (line && strays.length > 0) return false;
    if (lines.length > 1) return this.useHeadsSideBySide(lines);
    const cells = line ? line.cells : strays;
    if (cells.length === 0) return false;
    const texts = cells.map(({ cell }) => cellText(cell));
    const isHead = line ? headsValues(line) : cells.every(isHeadOfValues);
    const circuits = texts.map((text) => (text.length > 1 ? parseCircuit(text) : null));
    const namesCircuits = !isHead && texts.length > 1 && circuits.every((circuit) => circuit !== null);
    const read = line ? collector.labels.read(line.label, this.context) : null;
    if ((!isHead && !namesCircuits) || (read && read.fields.length > 0 && !isHead)) return false;
    useAll(collector, cells);
    if (line) collector.use(line.at);
    if (!namesCircuits) return true;
    this.circuits = new Map(cells.map(({ origin }, at) => [origin.column, circuits[at]!]));
    const context = read ? headingContext(read, this.context) : null;
    if (line && context) [this.context, this.section] = [context, line.label];
    return true;
  }

  /** A row such as `Item | Value | Item | Value` above pairs. */
  private useHeadsSideBySide(lines: readonly ChecklistLine[]): boolean {
    if (!lines.every((line) => line.cells.length > 0 && headsValues(line))) return false;
    for (const { at, cells } of lines) {
      this.collector.use(at);
      useAll(this.collector, cells);
    }
    return true;
  }

  private readLine(line: ChecklistLine, row: ChecklistRow, index: number): void {
    const { collector } = this;
    if (line.cells.length === 0 && this.readAlone(line, row, index)) return;
    const inline = line.cells.length === 0 ? inlineLabel(line.label, this.context, collector.labels) : null;
    const text = inline?.label ?? line.label;
    const cells = inline ? [{ cell: inline.value, origin: line.at }] : line.cells;
    const meant = collector.labels.read(text, this.context);
    const read = meant.fields[0] === 'unit' && isUnitOfPressure(cells[0]) ? { ...meant, fields: ['pressure_unit'] } : meant;
    this.firstLabel ??= foldLabel(inline ? line.label : text);
    if (!inline) collector.use(line.at);
    if (cells.length > 0) placeLine(collector, this.draft, { text, read, context: this.context, section: this.section }, cells, this.circuits);
    else if (WRITTEN_BELOW.has(read.fields[0] ?? '')) this.writtenBelow = { field: read.fields[0]!, row: row.number };
  }

  /** A text without a value beside it: a heading, the text of the label above it, or nothing that is understood. */
  private readAlone({ label, at }: ChecklistLine, row: ChecklistRow, index: number): boolean {
    const { collector } = this;
    const read = collector.labels.read(label, this.context);
    const context = headingContext(read, this.context);
    if (context) {
      [this.context, this.section] = [context, label];
      collector.use(at);
      return true;
    }
    if (read.fields.length > 0 || read.facets?.moment != null || inlineLabel(label, this.context, collector.labels)) return false;
    const below = this.writtenBelow;
    const isTitle = this.firstLabel === null;
    if (below && below.row === row.number - 1 && !isNumberedHeading(label)) {
      collector.place(this.draft, [below.field], label, at, below.field, { unit: null, timeUnit: null });
    } else if (isNumberedHeading(label)) {
      collector.use(at);
      this.numbered = true;
    } else if (isTitle || (looksLikeHeading(label) && this.rows[index + 1]?.lines.some(({ cells }) => cells.length > 0))) {
      collector.use(at);
      collector.note(`${JSON.stringify(shorten(label))} was taken as a ${isTitle ? 'title' : 'heading'}.`);
      [this.context, this.section] = [NO_CONTEXT, isTitle ? '' : label];
    } else {
      collector.leave(label, at, '', 'a label with a value beside it, or a heading above labels');
    }
    return true;
  }
}

/** A label such as `Item` with words such as `Value` beside it. */
function headsValues({ label, cells }: ChecklistLine): boolean {
  return HEAD_LABELS.has(foldLabel(label)) && cells.every(isHeadOfValues);
}

function isHeadOfValues({ cell }: LocatedCell): boolean {
  return HEAD_VALUES.has(foldLabel(cellText(cell)));
}

/** `Unit | psi` speaks of the gauge, not of the vehicle. */
function isUnitOfPressure(located: LocatedCell | undefined): boolean {
  return located !== undefined && parsePressureUnit(cellText(located.cell)) !== null;
}
