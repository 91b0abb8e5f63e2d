import type { LossReading, UnitRecord } from '../../src/fleet/unit-record.js';

/** A record of an inspection that decided nothing, with what a test says of it. */
export function record(on: string, more: Partial<UnitRecord> = {}): UnitRecord {
  return { on, row: 2, verdict: 'not tested', decided: '--', isRetest: false, leakShare: null, leading: null, losses: [null], buildup: null, ...more };
}

/** A loss against a limit of 3 on a gauge that is not known. */
export function reading(value: number, more: Partial<LossReading> = {}): LossReading {
  return { value, limit: 3, uncertainty: null, ...more };
}
