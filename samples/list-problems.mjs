// Listing problems: every cell that could not be taken as it stood, where it is, and what would have been understood.
import { evaluateReadings } from '../dist/index.js';

const { problems, source } = await evaluateReadings('samples/invented-fleet-messy.csv');
for (const { code, cell, column, found, expected } of problems) console.log(`${cell} ${column}: ${code}, found ${JSON.stringify(found)}; expected ${expected}`);
console.log(`${source.name}: ${problems.length} problems in ${source.inspections} inspections`);
