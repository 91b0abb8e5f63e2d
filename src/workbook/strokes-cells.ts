import type { FillValue } from '../formats/xlsx-package/assemble-xlsx.js';
import { formatAsFound } from '../readings/as-found-text.js';
import { isoDateToSerial } from '../readings/date-serial.js';
import { BLANK_CHAMBER } from '../strokes/evaluate-chamber.js';
import type { PositionStrokes, StrokeEvaluation } from '../strokes/evaluate-strokes.js';
import { strokeLimits, type StrokeLimits } from '../strokes/stroke-limits.js';
import type { StrokeNumbers } from '../strokes/stroke-numbers.js';
import type { StrokeResult } from '../strokes/stroke-result.js';
import type { Stroke, StrokeEntry, StrokeField } from '../strokes/stroke.js';
import type { VehicleStrokes } from '../strokes/vehicle-strokes.js';
import { extraCell, foundThatFit } from './cell-values.js';
import type { StrokeColumnId } from './strokes-columns.js';
import type { StrokesLayout } from './strokes-layout.js';

type Cells = ReadonlyMap<StrokeColumnId, FillValue>;

const BLANK: StrokeResult = { ...BLANK_CHAMBER, vehicle: '', pair: '', side: '', across_axle_in: null, twice: false };

/** The rows of the sheet: each holds a chamber, and beside it a line of each other table. */
export function* strokesRows(layout: StrokesLayout, strokes: readonly Stroke[], evaluation: StrokeEvaluation, numbers: StrokeNumbers): Generator<FillValue[]> {
  const [vehicleNumbers, positionNumbers] = [numberFirst(evaluation.chambers.map(({ vehicle }) => vehicle)), numberFirst(strokes.map(({ entries }) => String(entries.position ?? '')))];
  const [vehicleRows, positionRows] = [rowsOfNumbers(vehicleNumbers), rowsOfNumbers(positionNumbers)];
  const limits = limitCells(strokeLimits(), numbers);
  for (let row = 0; row < layout.rowCount; row++) {
    const stroke = strokes[row];
    const cells = new Map<StrokeColumnId, FillValue>([
      ...chamberCells(evaluation.chambers[row] ?? BLANK),
      ['vehicle_no', vehicleNumbers[row] ?? null],
      ['position_no', positionNumbers[row] ?? null],
      ['vehicle_row', vehicleRows[row] ?? null],
      ['position_row', positionRows[row] ?? null],
      ...vehicleCells(evaluation.vehicles[row]),
      ...positionCells(evaluation.positions[row]),
      ...(limits[row] ?? []),
    ]);
    yield layout.columns.map((column): FillValue => {
      switch (column.part) {
        case 'entry':
          return stroke ? strokeEntryCell(column.name, stroke.entries[column.name]) : null;
        case 'extra':
          return extraCell(stroke?.extra[column.index]);
        case 'as_found':
          return stroke && stroke.asFound.size > 0 ? formatAsFound(foundThatFit(stroke.asFound)) || null : null;
        case 'gap':
          return null;
        case 'computed':
          return cells.get(column.column.id) ?? null;
      }
    });
  }
}

/** The cell of an entry: a date as a sheet's date, a size of digits as a number. */
function strokeEntryCell(field: StrokeField, entry: StrokeEntry): FillValue {
  if (typeof entry !== 'string') return entry;
  if (field === 'inspected_on') return isoDateToSerial(entry) ?? entry;
  return field === 'chamber_size' && /^[1-9]\d?$/.test(entry) ? Number(entry) : entry;
}

/** Numbers the rows in which a text stands for the first time, without regard to case; null in every other. */
function numberFirst(texts: readonly string[]): (number | null)[] {
  const seen = new Set<string>();
  return texts.map((text) => {
    const key = text.toLowerCase();
    if (text === '' || seen.has(key)) return null;
    seen.add(key);
    return seen.size;
  });
}

/** The row, from 1, of each number in turn. */
function rowsOfNumbers(numbers: readonly (number | null)[]): number[] {
  return numbers.flatMap((number, row) => (number === null ? [] : [row + 1]));
}

function chamberCells(chamber: StrokeResult): Cells {
  const { verdict, chamber: name, line, highLine, stroke_in, rated_in, limit_in, limit_high_in, excess_in, share_of_limit, defective, reason, citation, status, vehicle, pair, side, across_axle_in, twice } = chamber;
  return new Map<StrokeColumnId, FillValue>([
    ['filled', verdict === null ? null : 'yes'],
    ['verdict', verdict],
    ['stroke_in', stroke_in],
    ['rated_in', rated_in],
    ['chamber', name],
    ['limit_line', name === '' ? null : line],
    ['limit_high_line', name === '' ? null : highLine],
    ['limit_in', limit_in],
    ['limit_high_in', limit_high_in],
    ['excess_in', excess_in],
    ['share_of_limit', share_of_limit],
    ['defective', defective],
    ['reason', reason],
    ['source', limit_in === null ? null : `${citation} (${status})`],
    ['vehicle', vehicle],
    ['pair', pair],
    ['side', side],
    ['across_axle_in', across_axle_in],
    ['twice', twice ? 'yes' : null],
  ]);
}

function vehicleCells(vehicle: VehicleStrokes | undefined): Cells {
  if (!vehicle) return new Map();
  return new Map<StrokeColumnId, FillValue>([
    ['vehicle_unit', vehicle.unit],
    ['vehicle_inspected_on', strokeEntryCell('inspected_on', vehicle.inspected_on)],
    ['vehicle_inspection_id', vehicle.inspection_id],
    ['vehicle_measured', vehicle.measured],
    ['vehicle_past_whole', vehicle.past_whole],
    ['vehicle_past_half', vehicle.past_half],
    ['vehicle_recheck', vehicle.recheck],
    ['vehicle_not_tested', vehicle.not_tested],
    ['vehicle_defective', vehicle.defective],
    ['vehicle_share', vehicle.defective_share],
    ['vehicle_words', vehicle.words],
  ]);
}

function positionCells(position: PositionStrokes | undefined): Cells {
  if (!position) return new Map();
  const { position: name, tested, failed, rate, low, high } = position;
  return new Map<StrokeColumnId, FillValue>([
    ['position_name', name],
    ['position_tested', tested],
    ['position_failed', failed],
    ['position_rate', rate],
    ['position_low', low],
    ['position_high', high],
  ]);
}

/** The lines of the table of limits: the chambers, then the rules. */
function limitCells({ limits, rules }: StrokeLimits, numbers: StrokeNumbers): Cells[] {
  const lines = [
    ...limits.map(({ chamber, diameter, limit_mm: mm, citation, printed, status }, index) => ({ name: chamber, diameter, limit: numbers.limits[index]!.limit, unit: 'in', mm, citation, printed, status })),
    ...rules.map(({ rule, title, unit, citation, printed, status }) => ({ name: title, diameter: null, limit: numbers.rules[rule].value, unit, mm: null, citation, printed, status })),
  ];
  return lines.map(({ name, diameter, limit, unit, mm, citation, printed, status }, index) => new Map<StrokeColumnId, FillValue>([
    ['limits_no', index + 1],
    ['limits_chamber', name],
    ['limits_diameter', diameter],
    ['limits_limit', limit],
    ['limits_unit', unit],
    ['limits_mm', mm],
    ['limits_source', citation],
    ['limits_printed', printed],
    ['limits_status', status],
  ]));
}
