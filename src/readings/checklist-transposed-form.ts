import { cellText, timeUnitOf } from './checklist-cell.js';
import { shorten, type Collector, type Units } from './checklist-collector.js';
import { NO_CONTEXT, type LabelContext } from './checklist-facet-fields.js';
import { foldLabel } from './checklist-fold-label.js';
import { headingContext, isNumberedHeading } from './checklist-headings.js';
import type { InspectionDraft } from './checklist-inspection-draft.js';
import type { ChecklistRow, LocatedCell } from './checklist-lines.js';
import { placeValue, useAll } from './checklist-place-line.js';
import { parsePressureUnit } from './pressure-units.js';

const TELLS_APART: ReadonlySet<string> = new Set(['unit', 'inspected_on', 'inspection_id']);

/** Reads a table that lies on its side: labels in one column, one inspection in each column to its right. */
export class TransposedForm {
  constructor(
    private readonly collector: Collector,
    private readonly rows: readonly (ChecklistRow | null)[],
  ) {}

  /** Reads all rows. A label of a unit that comes again begins another set of inspections. */
  read(): void {
    let band: ChecklistRow[] = [];
    let hasUnit = false;
    let last = 0;
    let firstLabel: string | null = null;
    for (const row of this.rows) {
      if (row === null) continue;
      const label = row.lines[0]?.label ?? '';
      const isUnit = this.collector.labels.named(label)?.name === 'unit';
      if (band.length > 0 && ((isUnit && hasUnit) || row.number <= last || (hasUnit && firstLabel !== null && foldLabel(label) === firstLabel))) {
        this.readBand(band);
        [band, hasUnit, firstLabel] = [[], false, null];
      }
      band.push(row);
      hasUnit ||= isUnit;
      if (row.lines[0] && row.lines[0].cells.length > 0) firstLabel ??= foldLabel(label);
      last = row.number;
    }
    if (band.length > 0) this.readBand(band);
  }

  private readBand(band: readonly ChecklistRow[]): void {
    const { collector } = this;
    const drafts = this.begin(band);
    const unitColumn = unitColumnOf(band, drafts);
    let context: LabelContext = NO_CONTEXT;
    let section = '';
    for (const row of band) {
      useAll(collector, row.ordinals);
      const [line] = row.lines;
      for (const { cell, origin } of row.strays) {
        if (isNumberedHeading(cellText(cell))) collector.use(origin);
        else collector.leave(cell, origin, '', 'a label in the column of labels');
      }
      if (!line) continue;
      const read = collector.labels.read(line.label, context);
      collector.use(line.at);
      if (line.cells.length === 0) {
        const below = headingContext(read, context);
        if (read.fields.length === 0 || below) [context, section] = [below ?? NO_CONTEXT, below || row !== band[0] ? line.label : ''];
        if (read.fields.length === 0 && !below) collector.note(`${JSON.stringify(shorten(line.label))} was taken as a heading.`);
        continue;
      }
      const units = unitsOf(line.cells, unitColumn);
      for (const one of line.cells) {
        const draft = drafts.get(one.origin.column);
        if (one.origin.column === unitColumn || isNumberedHeading(cellText(one.cell))) collector.use(one.origin);
        else if (draft) placeValue(collector, draft, { text: line.label, read, context, section }, one, units);
        else collector.leave(one.cell, one.origin, line.label, 'a column with a unit and a date');
      }
    }
  }

  /** One inspection for each column that has a unit, a date or an inspection number. */
  private begin(band: readonly ChecklistRow[]): Map<number, InspectionDraft> {
    const columns = new Set<number>();
    for (const { lines } of band) {
      for (const { label, cells } of lines) {
        if (!TELLS_APART.has(this.collector.labels.named(label)?.name ?? '')) continue;
        for (const { cell, origin } of cells) if (!isUnitWord(cellText(cell)) && !isNumberedHeading(cellText(cell))) columns.add(origin.column);
      }
    }
    return new Map([...columns].sort((a, b) => a - b).map((column) => [column, this.collector.begin(band[0]!.number)]));
  }
}

function isUnitWord(text: string): boolean {
  return parsePressureUnit(text) !== null || timeUnitOf(text) !== null;
}

/** The column that holds the units of the labels, where there is one. */
function unitColumnOf(band: readonly ChecklistRow[], drafts: ReadonlyMap<number, InspectionDraft>): number | null {
  const texts = new Map<number, string[]>();
  for (const { cell, origin } of band.flatMap(({ lines }) => lines.flatMap(({ cells }) => cells))) {
    const own = texts.get(origin.column);
    if (own) own.push(cellText(cell));
    else texts.set(origin.column, [cellText(cell)]);
  }
  for (const [column, own] of texts) {
    if (!drafts.has(column) && own.some(isUnitWord) && own.every((text) => isUnitWord(text) || /^(?:units?|-|rpm|km|mi|m+:s+)$/i.test(text))) return column;
  }
  return null;
}

function unitsOf(cells: readonly LocatedCell[], unitColumn: number | null): Units {
  const text = cellText(cells.find(({ origin }) => origin.column === unitColumn)?.cell);
  return { unit: parsePressureUnit(text), timeUnit: timeUnitOf(text) };
}
