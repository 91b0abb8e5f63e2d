import type { CellLook } from './cell-styles.js';
import { PALETTE } from './palette.js';

/** The tables and parts of tables that stand beside one another on the sheet Strokes. */
export type StrokeBlock = 'verdict' | 'result' | 'vehicles' | 'positions' | 'limits' | 'working';

/** A column that the program computes or lists. */
export interface StrokeComputedColumn<Id extends string = StrokeColumnId> {
  readonly id: Id;
  readonly title: string;
  readonly width: number;
  readonly look: CellLook;
}

const shaded: CellLook = { ...PALETTE.computed, line: true };
const number = (format: string): CellLook => ({ ...shaded, right: true, format });
const listed = (format: string): CellLook => ({ right: true, format, top: true });
const words: CellLook = { wrap: true, top: true, size: 9 };
const working: CellLook = { ...PALETTE.name, size: 8 };

function column<Id extends string>(id: Id, title: string, width: number, look: CellLook): StrokeComputedColumn<Id> {
  return { id, title, width, look };
}

/** The computed columns of the sheet Strokes by block, from the left. */
export const STROKE_BLOCKS = {
  verdict: [column('verdict', 'Verdict', 10, { ...shaded, centre: true })],
  result: [
    column('limit_in', 'Limit (in)', 8, number('0.###')),
    column('excess_in', 'Past the limit (in); minus: left', 9, number('0.000')),
    column('share_of_limit', 'Share of limit', 8, number('0 %')),
    column('across_axle_in', 'Left against right on the axle (in)', 9, { ...shaded, centre: true, format: '0.000' }),
    column('reason', 'In words', 46, { ...shaded, wrap: true, size: 9 }),
    column('source', 'Source of the limit (status)', 28, { ...shaded, wrap: true, size: 9 }),
  ],
  vehicles: [
    column('vehicle_unit', 'Unit', 12, { bold: true, top: true }),
    column('vehicle_inspected_on', 'Date', 11, { centre: true, format: 'yyyy-mm-dd', top: true }),
    column('vehicle_inspection_id', 'Inspection', 11, { top: true }),
    column('vehicle_measured', 'Brakes measured', 9, listed('0')),
    column('vehicle_past_whole', 'Past by 1/4 in or more', 9, listed('0')),
    column('vehicle_past_half', 'Past by less', 8, listed('0')),
    column('vehicle_recheck', 'Recheck', 9, listed('0')),
    column('vehicle_not_tested', 'Not tested', 8, listed('0')),
    column('vehicle_defective', 'Defective brakes', 9, listed('0.0')),
    column('vehicle_share', 'Share of those measured', 9, { centre: true, top: true, format: '0.0 %', bold: true }),
    column('vehicle_words', 'In words', 52, words),
  ],
  positions: [
    column('position_name', 'Position', 13, { bold: true, top: true }),
    column('position_tested', 'Tested', 8, listed('0')),
    column('position_failed', 'Failed', 8, listed('0')),
    column('position_rate', 'Fail rate', 9, { ...listed('0.0 %'), bold: true }),
    column('position_low', '95 % interval, from', 9, listed('0.0 %')),
    column('position_high', 'to', 9, listed('0.0 %')),
  ],
  limits: [
    column('limits_no', 'Line', 6, { centre: true, top: true, format: '0' }),
    column('limits_chamber', 'Chamber: type, size, stroke kind', 34, { bold: true, wrap: true, top: true }),
    column('limits_diameter', 'Outside diameter', 19, { top: true }),
    column('limits_limit', 'Limit', 9, { centre: true, top: true, format: '0.###', bold: true }),
    column('limits_unit', 'Unit', 17, { top: true }),
    column('limits_mm', 'mm as printed', 9, { centre: true, top: true, format: '0.0' }),
    column('limits_source', 'Source', 48, words),
    column('limits_printed', 'Comparator as printed', 36, words),
    column('limits_status', 'Status of the source', 12, { top: true }),
  ],
  working: [
    column('filled', 'Row filled', 8, working),
    column('stroke_in', 'Stroke (in)', 9, working),
    column('rated_in', 'Rated stroke (in)', 9, working),
    column('chamber', 'Chamber', 22, working),
    column('limit_line', 'Line of the limit', 8, working),
    column('limit_high_line', 'Line of the higher limit', 8, working),
    column('limit_high_in', 'Higher limit (in)', 8, working),
    column('defective', 'Defective brakes', 8, working),
    column('vehicle', 'Vehicle and inspection', 24, working),
    column('vehicle_no', 'Vehicle, first row', 8, working),
    column('side', 'Side', 6, working),
    column('pair', 'Axle', 26, working),
    column('twice', 'Stands twice', 8, working),
    column('position_no', 'Position, first row', 8, working),
    column('vehicle_row', 'Row of the vehicle', 8, working),
    column('position_row', 'Row of the position', 8, working),
  ],
} as const satisfies Readonly<Record<StrokeBlock, readonly StrokeComputedColumn<string>[]>>;

/** The identifier of a computed column. */
export type StrokeColumnId = (typeof STROKE_BLOCKS)[StrokeBlock][number]['id'];

/** The bands over the blocks. */
export const STROKE_BANDS: Readonly<Record<StrokeBlock, string>> = {
  verdict: 'Result',
  result: 'Computed',
  vehicles: 'Vehicles and inspections: brakes out of adjustment',
  positions: 'Positions, all vehicles',
  limits: 'Limits of the stroke: a number changed here changes the verdicts',
  working: 'Working',
};
