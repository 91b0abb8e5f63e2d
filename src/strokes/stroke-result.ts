import type { ChamberResult } from './evaluate-chamber.js';

/** One brake chamber, evaluated among the others of its table. */
export interface StrokeResult extends ChamberResult {
  /** What makes rows of one vehicle and inspection the same: unit, date and inspection; empty without any of them. */
  readonly vehicle: string;
  /** The axle and place without the side, among those of the vehicle; empty where the position names no side. */
  readonly pair: string;
  readonly side: 'L' | 'R' | '';
  /** Inches between left and right on this axle; null unless each side was measured once. No limit: they should be nearly the same (common practice, no source). */
  readonly across_axle_in: number | null;
  /** True when the place stands more than once for its vehicle and inspection. */
  readonly twice: boolean;
}
