import type { Evaluation } from '../fleet/evaluation.js';
import { unitKey } from '../readings/unit-key.js';
import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';

/** Which inspections are wanted. */
export interface InspectionWanted {
  readonly unit: string;
  /** `yyyy-mm-dd` */
  readonly date: string;
}

/**
 * The inspections of a unit on a day, in the order of the table. The unit is meant as it is written there; another spelling (`t7` for
 * `T-07`) is taken where it can be one unit only.
 *
 * @throws TreadlebookError `input_unreadable` when there is none, with the nearest unit or date
 * @example findInspections(fleet.evaluations, { unit: 'K-101', date: '2026-03-14' }, 'fleet.csv').length // 1
 */
export function findInspections(evaluations: readonly Evaluation[], { unit, date }: InspectionWanted, source: string): readonly Evaluation[] {
  const spelling = spellingOf(unit, new Set(evaluations.flatMap((one) => (one.unit === null ? [] : [one.unit]))), source);
  const ofUnit = evaluations.filter((one) => one.unit === spelling);
  const found = ofUnit.filter(({ inspected_on }) => inspected_on === date);
  if (found.length > 0) return found;
  const dates = [...new Set(ofUnit.flatMap(({ inspected_on }) => (inspected_on === null ? [] : [inspected_on])))].sort();
  const nearest = nearestDate(date, dates);
  throw none(source, `there is no inspection of ${JSON.stringify(spelling)} on ${date}`, nearest === null ? 'no date of that unit was understood; mend its dates first' : `the nearest one is of ${nearest}`);
}

function spellingOf(unit: string, units: ReadonlySet<string>, source: string): string {
  if (units.has(unit)) return unit;
  const alike = [...units].filter((one) => unitKey(one) === unitKey(unit));
  if (alike.length === 1) return alike[0]!;
  const what = `there is no unit ${JSON.stringify(unit.slice(0, 60))}`;
  if (alike.length > 1) throw none(source, what, `write it as it stands there: ${alike.map((one) => JSON.stringify(one)).join(' or ')}`);
  const near = nearestName(unit, units);
  throw none(source, what, near === null ? 'write it as it stands in the column Unit' : `the nearest one is ${JSON.stringify(near)}`);
}

function nearestDate(date: string, dates: readonly string[]): string | null {
  const away = (one: string): number => Math.abs(Date.parse(one) - Date.parse(date));
  return dates.reduce<string | null>((best, one) => (best === null || away(one) < away(best) ? one : best), null);
}

function none(where: string, what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'input_unreadable', where, what, mend });
}

/** The inspections of the same unit before one of them, the latest first; of one day those that stand above it. */
export function earlierInspections(evaluations: readonly Evaluation[], { unit, inspected_on, row }: Evaluation, most: number): readonly Evaluation[] {
  const before = evaluations.filter((one) => one.unit === unit && one.inspected_on !== null && inspected_on !== null && (one.inspected_on < inspected_on || (one.inspected_on === inspected_on && one.row < row)));
  return before.sort((a, b) => (a.inspected_on! < b.inspected_on! ? 1 : a.inspected_on! > b.inspected_on! ? -1 : b.row - a.row)).slice(0, most);
}
