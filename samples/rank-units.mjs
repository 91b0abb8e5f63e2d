// Ranking units: which one uses the highest share of a leak's limit now, and what its latest verdict is.
import { evaluateReadings } from '../dist/index.js';

const { summary } = await evaluateReadings('samples/invented-fleet.csv', { asOf: '2026-11-01' });
for (const { unit, site, share_now, latest_on, latest_verdict, failed, inspections } of summary.units.slice(0, 5)) {
  console.log(`${unit.padEnd(6)} ${site.padEnd(14)} ${(100 * share_now).toFixed(0).padStart(4)} % of a leak's limit; latest ${latest_on}: ${latest_verdict}; failed ${failed} of ${inspections}`);
}
