import type { CellOrigin, RawCell } from '../util/raw-table.js';
import { timeUnitOf } from './checklist-cell.js';
import type { Collector } from './checklist-collector.js';
import { fieldsOfFacets, SINGLE_PRESSURE } from './checklist-facet-fields.js';
import type { InspectionDraft } from './checklist-inspection-draft.js';
import type { CircuitName, LabelFacets } from './checklist-label-facets.js';
import type { LongFormReading } from './long-form-header.js';
import { parsePressureUnit, type PressureUnit } from './pressure-units.js';

/** One reading of a row. */
export interface RowReading {
  readonly column: LongFormReading;
  readonly header: string;
  readonly cell: RawCell;
  readonly origin: CellOrigin;
}

/** What a row says beside its readings. */
export interface RowTest {
  /** The field that the test is, where its name is a field's name. */
  readonly field: string | null;
  readonly facets: LabelFacets | null;
  readonly circuit: CircuitName | null;
  /** The unit that stands beside the readings. */
  readonly measure: string;
}

/** Where the one reading of a test is looked for, first to last. */
const PRESSURE_FIRST = ['value', 'end', 'start'] as const;
const TIME_FIRST = ['time', 'value'] as const;

/** Places the readings of one row of a list with one row per test. */
export function placeReadings(collector: Collector, draft: InspectionDraft, test: RowTest, readings: readonly RowReading[]): void {
  const single = singleFields(test);
  if (single.length > 0) placeSingle(collector, draft, test, single, readings);
  else for (const reading of readings) placeByMoment(collector, draft, test, reading);
  const span = test.facets?.span;
  if (!span) return;
  for (const [index, name] of ['buildup_from', 'buildup_to'].entries()) draft.suggest(name, span[index]!, test.facets!.unit);
}

/** The fields of a test that gives one reading: a field by name, a reading such as "released primary start", a cut-in. */
function singleFields({ field, facets, circuit }: RowTest): readonly string[] {
  if (field !== null) return [field];
  if (!facets) return [];
  const whole = { ...facets, circuit: facets.circuit ?? circuit };
  const gives = facets.moment !== null || (facets.test !== null && SINGLE_PRESSURE.has(facets.test));
  return gives ? fieldsOfFacets(whole) : [];
}

function placeSingle(collector: Collector, draft: InspectionDraft, test: RowTest, fields: readonly string[], readings: readonly RowReading[]): void {
  const timed = collector.labels.field(fields[0]!)!.kind === 'time';
  const order: readonly string[] = timed ? TIME_FIRST : PRESSURE_FIRST;
  const chosen = order.flatMap((moment) => readings.filter(({ column }) => column.moment === moment)).at(0);
  for (const reading of readings) {
    if (reading === chosen) place(collector, draft, test, fields, reading);
    else collector.leave(reading.cell, reading.origin, reading.header, `one reading for ${fields.join(' and ')}${chosen ? `; ${chosen.header} was taken` : ''}`);
  }
}

function placeByMoment(collector: Collector, draft: InspectionDraft, test: RowTest, reading: RowReading): void {
  const { facets } = test;
  const { cell, origin, header, column } = reading;
  if (!facets || facets.test === null) {
    collector.leave(cell, origin, header, 'a test beside it, such as released, applied, light, buzzer, build-up, cut-in, cut-out, parking valve, trailer valve or reserve');
    return;
  }
  const moment = facets.moment ?? (column.moment === 'value' ? null : column.moment);
  const fields = fieldsOfFacets({ test: facets.test, circuit: column.circuit ?? facets.circuit ?? test.circuit, moment });
  if (fields.length > 0) place(collector, draft, test, fields, reading);
  else collector.leave(cell, origin, header, expectedFor(facets.test, moment));
}

function expectedFor(test: string, moment: string | null): string {
  if (test === 'governor') return 'cut-in or cut-out as the test, each in a row of its own';
  if (moment === null) return `whether it is the start or the end of the ${test} test: name it in the test, or put it into the column for it`;
  if (test === 'released' || test === 'applied') return moment === 'settle' ? 'a settle time of the applied test' : 'the circuit beside it: primary, secondary or both';
  return `a reading of the ${test} test, which has no ${moment === 'settle' ? 'settle time' : moment}`;
}

function place(collector: Collector, draft: InspectionDraft, test: RowTest, fields: readonly string[], { column, header, cell, origin }: RowReading): void {
  const unit: PressureUnit | null = column.unit ?? test.facets?.unit ?? parsePressureUnit(test.measure);
  const timeUnit = column.timeUnit ?? test.facets?.timeUnit ?? timeUnitOf(test.measure);
  collector.place(draft, fields, cell, origin, header, { unit, timeUnit });
}
