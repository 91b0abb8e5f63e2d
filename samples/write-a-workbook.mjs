// Writing the evaluated workbook, and reading it back: an evaluated workbook evaluates to the same verdicts.
import { mkdirSync } from 'node:fs';
import { evaluateReadings, workbookOf, writeFileAtomically } from '../dist/index.js';

mkdirSync('out', { recursive: true });
const fleet = await evaluateReadings('samples/invented-fleet.csv', { limits: 'us-nevada' });
await writeFileAtomically('out/nevada.xlsx', workbookOf(fleet), true);

const again = await evaluateReadings('out/nevada.xlsx', { limits: 'us-nevada' });
const same = again.evaluations.filter(({ verdict, reason }, index) => verdict === fleet.evaluations[index].verdict && reason === fleet.evaluations[index].reason);
console.log(`wrote out/nevada.xlsx; read back, ${same.length} of ${fleet.evaluations.length} inspections have the same verdict and reason`);
