import { writeCsv, type CsvCell } from '../../src/formats/write-csv.js';
import { STROKE_FIELDS, type StrokeField } from '../../src/strokes/stroke.js';
import { listed, LISTED } from '../strokes/listed-chambers.js';
import { textOf } from './bytes-of.js';

/** The cells of one row by field, and of columns of the user's own. */
export type StrokeRow = Readonly<Partial<Record<StrokeField, CsvCell>> & Record<string, CsvCell>>;

/** A few readings, for strokes to stand beside. */
export const READINGS = 'inspection_id,inspected_on,unit,released_primary_start,released_primary_end,released_time\nA-1,2026-03-14,K-101,104,102,1:00\n';

/** Every kind of row: each listed chamber at its limit, past it and in millimetres; messy, contradictory and blank ones. */
export const EVERY_ROW: readonly StrokeRow[] = [
  ...LISTED.flatMap((line, index): StrokeRow[] => {
    const row = { ...listed(line), unit: `K-${index}`, inspected_on: '2026-03-14', inspection_id: `A-${index}` } as StrokeRow;
    return [
      { ...row, position: '1L', stroke: line.inches },
      { ...row, position: '1R', stroke: line.inches + 1 / 64 },
      { ...row, position: '2L', stroke: line.mm, stroke_unit: 'mm' },
      { ...row, position: '2R', stroke: line.inches + 0.25 },
    ];
  }),
  ...(['20', '24'] as const).flatMap((chamber_size) => ['2', '2.25', '2.5', '2.75'].flatMap((stroke): StrokeRow[] => [undefined, '2.5', '3'].map((rated_stroke, index): StrokeRow => ({ unit: `L-${chamber_size}`, inspected_on: '2026-03-15', position: `${index + 1}L inner`, chamber_size, stroke_kind: 'long', stroke, ...(rated_stroke === undefined ? {} : { rated_stroke }) })))),
  { unit: 'M-1', inspected_on: '2026-03-16', position: 'LF', chamber_type: '30/30', stroke: '2 1/8"', Weather: 'dry' },
  { unit: 'm-1', inspected_on: '2026-03-16', position: 'right front', chamber_type: '30LS', stroke: '44,5 mm' },
  { unit: 'M-1', inspected_on: '2026-03-16', position: 'LF', chamber_type: '30', stroke: '1¾' },
  { unit: 'M-1', inspected_on: '2026-03-16', position: 'axle 2 left', chamber_type: '14', rated_stroke: '2 1/2', stroke: '2' },
  { unit: 'M-1', inspected_on: '2026-03-16', position: 'axle 2 right', chamber_type: '14', stroke: '2' },
  { unit: 'M-1', inspected_on: '2026-03-16', position: 'under the bed', chamber_type: 'weird', stroke: '1.5' },
  { unit: 'M-1', inspected_on: '2026-03-16', position: '7', chamber_size: '9', stroke: '0' },
  { unit: 'M-1', inspected_on: 'some day', position: '3R', chamber_size: '30', stroke: 'worn' },
  { unit: 'M*', inspected_on: '2026-03-16', position: '3R', chamber_size: '*', stroke: '1' },
  { unit: 'M?', inspected_on: '2026-03-16', position: '3*', chamber_size: '30', stroke: '44' },
  { unit: '=cmd|\' /c calc\'!A1', inspected_on: '2026-03-16', inspection_id: '@SUM(1)', position: '+1L', chamber_size: '30', stroke: '1', stroke_unit: 'cm' },
  { unit: '007', inspected_on: '2026-03-16', position: '1L', chamber_size: '30', stroke: '1', Weather: '=1+1' },
  { unit: '7', inspected_on: '2026-03-16', position: '1L', chamber_size: '30', stroke: '1' },
  { inspected_on: '2026-03-16', position: '1L', stroke: '1' },
  { unit: 'M-2', inspected_on: '2026-03-16', position: '1L', chamber_type: '30L', stroke_kind: 'standard', stroke: '1' },
  { unit: 'M-2', inspected_on: '2026-03-16', position: '1R', chamber_size: 'c', stroke: '1.25' },
  { Weather: 'nothing of ours' },
];

/** Rows as CSV: the columns of strokes, then those of the user. */
export function strokesCsv(rows: readonly StrokeRow[]): Promise<string> {
  const own = [...new Set(rows.flatMap((row) => Object.keys(row)))].filter((name) => !(STROKE_FIELDS as readonly string[]).includes(name));
  const header = [...STROKE_FIELDS, ...own];
  return textOf(writeCsv([header, ...rows.map((row) => header.map((name) => row[name] ?? null))]));
}
