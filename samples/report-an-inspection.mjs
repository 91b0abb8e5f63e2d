// One printable page for an inspection: what was read, what came of it, by which limits, and where it came from.
import { mkdirSync } from 'node:fs';
import { evaluateReadings, reportWorkbook, writeFileAtomically } from '../dist/index.js';

mkdirSync('out', { recursive: true });
const fleet = await evaluateReadings('samples/invented-fleet.csv');
const [worst] = fleet.summary.units;
await writeFileAtomically('out/report.xlsx', reportWorkbook(fleet, { unit: worst.unit, date: worst.latest_on }), true);
console.log(`wrote out/report.xlsx: ${worst.unit} on ${worst.latest_on}, ${worst.latest_verdict}`);
