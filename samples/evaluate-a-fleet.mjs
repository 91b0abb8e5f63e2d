// Evaluating a fleet: the verdict of every inspection, with its reason in words.
import { evaluateReadings } from '../dist/index.js';

const fleet = await evaluateReadings('samples/invented-fleet.csv', { limits: 'common-practice' });
for (const verdict of ['pass', 'fail', 'recheck', 'not tested']) {
  const found = fleet.evaluations.filter((evaluation) => evaluation.verdict === verdict);
  const { inspection_id, unit, reason } = found.at(-1);
  console.log(`${found.length} ${verdict}; the last of them is ${inspection_id}, unit ${unit}:\n  ${reason}`);
}
