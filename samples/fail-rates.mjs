// Fail rates by check, kind of vehicle, site and inspector, each with its 95 % Wilson interval, and by month.
import { evaluateReadings } from '../dist/index.js';

const percent = (share) => `${(100 * share).toFixed(1)} %`;
const { summary } = await evaluateReadings('samples/invented-fleet.csv');
for (const { group, name, tested, failed, rate, low, high } of summary.fail_rates) {
  if (group === 'check' || group === 'site') console.log(`${group} ${name}: ${failed} of ${tested}, ${percent(rate)} (${percent(low)} to ${percent(high)})`);
}
const worst = summary.trend.reduce((a, b) => (b.rate > a.rate ? b : a));
console.log(`worst month: ${worst.month}, ${worst.failed} of ${worst.tested} failed, median loss ${worst.applied_loss_median.toFixed(1)} psi/min with the brakes applied`);
