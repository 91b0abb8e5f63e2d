import type { SheetContext } from '../sheet-context.js';

/** What the sheet Units says of itself: what 100 % is, what is live, what a blank trend means, and when the next inspection is due. */
export function unitNotes({ fleet, live, plan }: SheetContext): string {
  const to = fleet?.summary.counted_to ?? null;
  const now = 'now: at the latest inspection with a leak test; 100 % is the limit';
  const said = [fleet === null ? `One row per unit, as they are typed (${now}).` : `One row per unit, the highest share of a leak's limit now first (${now}).`];
  if (fleet === null) {
    said.push('Live formulas over Readings. A blank trend, limit date, signal of the control chart or word on build-up and leak comes when the workbook is evaluated with the program: no formula can give it.');
  } else {
    const when = `computed when the workbook was written, from inspections up to ${to ?? 'the last'}`;
    said.push(live ? `Trend, limit date, course, and build-up and leak are values ${when}; all else is live.` : `Values as of writing: ${when}.`);
  }
  said.push(plan.interval === null ? 'The limit set names no interval, so nothing is due.' : `The next inspection is due ${plan.interval.every} ${plan.interval.unit} after the latest (sheet Limits).`);
  return said.join(' ');
}
