// Evaluating a file of any length in bounded memory: one inspection at a time from the file, through the limits, to CSV.
import { mkdirSync } from 'node:fs';
import { compileLimitSet, evaluatedCsv, evaluateInspections, loadLimitSet, openReadings, writeFileAtomically } from '../dist/index.js';

mkdirSync('out', { recursive: true });
const plan = compileLimitSet(loadLimitSet('us-driver-licence-manual'));
const { reader, source } = await openReadings('samples/invented-fleet.csv', { dictionary: plan.dictionary });

const verdicts = new Map();
async function* counted(evaluations) {
  for await (const evaluation of evaluations) {
    verdicts.set(evaluation.verdict, (verdicts.get(evaluation.verdict) ?? 0) + 1);
    yield evaluation;
  }
}
await writeFileAtomically('out/evaluated.csv', evaluatedCsv(plan, reader.columns, counted(evaluateInspections(plan, reader.inspections))), true);
console.log(`wrote out/evaluated.csv: ${source().inspections} inspections, ${verdicts.get('fail')} of them fail; ${reader.problems.length} problems`);
