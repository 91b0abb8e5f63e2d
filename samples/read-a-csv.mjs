// Reading a CSV without evaluating it: each cell as it was understood, the text as found, and the counts.
import { openReadings } from '../dist/index.js';

const { reader, source } = await openReadings('samples/invented-fleet-messy.csv');
const at = (name) => reader.dictionary.position.get(name);
const lines = [];
for await (const { row, values, asFound } of reader.inspections) {
  const primary = [values[at('released_primary_start')], values[at('released_primary_end')]];
  lines.push(`row ${row}: ${values[at('unit')]} on ${values[at('inspected_on')]}, primary ${primary.map((value) => value?.toFixed(0) ?? 'blank').join(' to ')} ${values[at('pressure_unit')] ?? 'psi'}, date typed as ${asFound.get('inspected_on')}`);
}
console.log(lines.slice(0, 4).join('\n'));

const { name, rows_read, rows_blank, inspections } = source();
console.log(`${name}: header in row ${reader.headerRow}, ${rows_read} rows read, ${rows_blank} blank, ${inspections} inspections`);
console.log(`columns that are not of the table, kept: ${reader.extraHeaders.join(', ')}`);
