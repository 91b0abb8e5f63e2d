// Limits of one's own: our-own-limits.json extends a shipped set by a column, two measures and three checks, without code.
import { compileLimitSet, evaluateReadings, loadLimitSet } from '../dist/index.js';

const readings = `inspected_on,unit,gauge_step,applied_before,applied_primary_start,applied_primary_end,applied_time,light_on_at,audible_leak
2026-03-02,T-1,2,118,106,105,60 s,70,no
2026-03-02,T-2,25,118,95,94,60 s,62,yes`;

const limits = loadLimitSet('samples/our-own-limits.json');
console.log(`checks: ${compileLimitSet(limits).checks.map(({ check }) => check).join(', ')}`);
const fleet = await evaluateReadings(new TextEncoder().encode(readings), { limits, format: 'csv' });
for (const { unit, checks } of fleet.evaluations) {
  for (const { check, verdict, reason } of checks) {
    if (['warning', 'first_drop', 'audible'].includes(check)) console.log(`${unit} ${verdict}: ${reason}`);
  }
}
