import type { CellOrigin } from '../util/raw-table.js';
import type { Collector, Units } from './checklist-collector.js';
import { shorten } from './checklist-collector.js';
import { fieldsOfFacets, inContext, type LabelContext } from './checklist-facet-fields.js';
import { foldLabel, shownLabel } from './checklist-fold-label.js';
import type { InspectionDraft } from './checklist-inspection-draft.js';
import type { CircuitName } from './checklist-label-facets.js';
import type { ReadLabel } from './checklist-label-reader.js';
import type { LocatedCell } from './checklist-lines.js';
import { splitCells } from './checklist-split-cells.js';

/** A label in its place. */
export interface PlacedLabel {
  readonly text: string;
  readonly read: ReadLabel;
  readonly context: LabelContext;
  /** The heading above it; empty where there is none. */
  readonly section: string;
}

/** In a form, what stands beside these is how the part looks, not how long it took; in a heading they mean the build-up. */
const PARTS: ReadonlySet<string> = new Set(['compressor', 'air compressor']);

/** Places the cells to the right of a label. */
export function placeLine(collector: Collector, draft: InspectionDraft, label: PlacedLabel, cells: readonly LocatedCell[], circuits: ReadonlyMap<number, CircuitName>): void {
  const { text, read } = label;
  const [first] = PARTS.has(foldLabel(text)) ? [] : read.fields;
  if (first !== undefined) {
    noteLabel(collector, label, read.fields);
    const split = splitCells(cells, collector.labels.field(first)!);
    for (const { origin } of split.unitCells) collector.use(origin);
    const units: Units = { unit: read.unit ?? split.units.unit, timeUnit: read.timeUnit ?? split.units.timeUnit };
    collector.place(draft, read.fields, split.value.cell, split.value.origin, shownLabel(text), units);
    suggestSpan(draft, read);
    placeRemarks(collector, draft, collector.labels.field(first)!.title, split.remarks);
  } else if (!PARTS.has(foldLabel(text)) && read.facets && (read.facets.moment !== null || read.facets.circuit !== null || read.facets.test !== null)) {
    placeByColumn(collector, draft, label, cells, circuits);
  } else {
    const [value, ...remarks] = cells;
    const header = label.section === '' ? shownLabel(text) : `${shownLabel(label.section)}: ${shownLabel(text)}`;
    collector.placeExtra(draft, header, value!.cell, value!.origin);
    placeRemarks(collector, draft, header, remarks);
  }
}

/** Places one value of a label, of several inspections side by side. */
export function placeValue(collector: Collector, draft: InspectionDraft, label: PlacedLabel, { cell, origin }: LocatedCell, units: Units): void {
  const { text, read } = label;
  if (read.fields.length > 0 && !PARTS.has(foldLabel(text))) {
    noteLabel(collector, label, read.fields);
    collector.place(draft, read.fields, cell, origin, shownLabel(text), { unit: read.unit ?? units.unit, timeUnit: read.timeUnit ?? units.timeUnit });
    suggestSpan(draft, read);
  } else {
    placeLine(collector, draft, label, [{ cell, origin }], new Map());
  }
}

/** Readings whose circuit stands above their column; without one, and without a test, they have no place. */
function placeByColumn(collector: Collector, draft: InspectionDraft, label: PlacedLabel, cells: readonly LocatedCell[], circuits: ReadonlyMap<number, CircuitName>): void {
  const { text, read, context } = label;
  const whole = inContext(read.facets!, context);
  for (const { cell, origin } of cells) {
    const fields = fieldsOfFacets({ ...whole, circuit: whole.circuit ?? circuits.get(origin.column) ?? null });
    if (fields.length > 0) collector.place(draft, fields, cell, origin, shownLabel(text), read);
    else collector.leave(cell, origin, shownLabel(text), expectedFor(whole.test, whole.moment));
  }
}

function expectedFor(test: string | null, moment: string | null): string {
  if (test === null) return 'a label, or a heading above it, that names the test, such as Brakes released or Brakes applied';
  return moment === null ? 'a label that names the reading, such as start, end or time' : 'a label that names the circuit, primary or secondary';
}

function placeRemarks(collector: Collector, draft: InspectionDraft, header: string, remarks: readonly LocatedCell[]): void {
  for (const [index, { cell, origin }] of remarks.entries()) collector.placeExtra(draft, `${header}: remark${index === 0 ? '' : ` ${index + 1}`}`, cell, origin);
}

function suggestSpan(draft: InspectionDraft, { facets }: ReadLabel): void {
  if (!facets?.span) return;
  for (const [index, name] of ['buildup_from', 'buildup_to'].entries()) draft.suggest(name, facets.span[index]!, facets.unit);
}

function noteLabel(collector: Collector, { text, read, section }: PlacedLabel, fields: readonly string[]): void {
  if (!read.facets) return;
  const below = section === '' || read.facets.test !== null ? '' : ` below ${JSON.stringify(shorten(shownLabel(section)))}`;
  collector.note(`${JSON.stringify(shorten(shownLabel(text)))}${below} was taken as ${fields.join(' and ')}.`);
}

/** Notes cells as words that placed others. */
export function useAll(collector: Collector, origins: Iterable<{ readonly origin: CellOrigin }>): void {
  for (const { origin } of origins) collector.use(origin);
}
