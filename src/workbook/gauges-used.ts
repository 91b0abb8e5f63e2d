import type { Evaluation } from '../fleet/evaluation.js';
import { fieldPosition, type Dictionary } from '../readings/dictionary.js';
import type { PressureUnit } from '../readings/pressure-units.js';

/** A gauge that tests were read on. */
export interface GaugeUsed {
  readonly unit: PressureUnit;
  /** Null where only the readability was given. */
  readonly step: number | null;
  /** As given; null where it goes by the step. */
  readonly readableTo: number | null;
}

/** The dial of most cabs, for where no gauge is named; common practice, no source. */
export const USUAL_GAUGE: GaugeUsed = { unit: 'psi', step: 25, readableTo: null };

/** The gauges of the inspections, the commonest first and of those the coarsest, whatever the order of the rows; the usual one where none is named. */
export function gaugesUsed(evaluations: readonly Evaluation[], dictionary: Dictionary, most: number): GaugeUsed[] {
  const at = (name: string): number => fieldPosition(dictionary, name);
  const [unitAt, stepAt, readableAt] = [at('pressure_unit'), at('gauge_step'), at('readable_to')];
  const counts = new Map<string, { gauge: GaugeUsed; count: number }>();
  for (const { inspection } of evaluations) {
    const [unit, step, readableTo] = [inspection.values[unitAt], positive(inspection.values[stepAt]), positive(inspection.values[readableAt])];
    // A unit that was not understood leaves the gauge unknown.
    if ((step === null && readableTo === null) || inspection.notRead.includes('pressure_unit')) continue;
    const gauge: GaugeUsed = { unit: (unit ?? 'psi') as PressureUnit, step, readableTo };
    const key = JSON.stringify(gauge);
    const known = counts.get(key);
    if (known) known.count += 1;
    else counts.set(key, { gauge, count: 1 });
  }
  const found = [...counts].sort(([aKey, a], [bKey, b]) => b.count - a.count || byName(a.gauge.unit, b.gauge.unit) || (b.gauge.step ?? 0) - (a.gauge.step ?? 0) || byName(aKey, bKey)).slice(0, most);
  return found.length === 0 ? [USUAL_GAUGE] : found.map(([, { gauge }]) => gauge);
}

function byName(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function positive(value: unknown): number | null {
  return typeof value === 'number' && value > 0 ? value : null;
}
