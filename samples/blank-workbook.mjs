// A blank workbook for entry: hand it out, and verdicts appear as rows are typed, with no Node on that machine.
// What was typed comes back through evaluateReadings like any other input.
import { mkdirSync } from 'node:fs';
import { blankWorkbook, openReadings, writeFileAtomically } from '../dist/index.js';

mkdirSync('out', { recursive: true });
await writeFileAtomically('out/entry.xlsx', blankWorkbook({ limits: 'us-new-hampshire', rows: 50 }), true);

const { reader, close } = await openReadings('out/entry.xlsx');
const entry = reader.columns.filter(({ role }) => role === 'field');
console.log(`wrote out/entry.xlsx: sheet ${reader.sheet}, 50 rows for ${entry.length} readings, the first of them ${entry.slice(0, 3).map(({ header }) => header).join(', ')}`);
close();
