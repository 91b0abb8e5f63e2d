import { readCsv } from '../../src/formats/read-csv.js';
import type { Keying } from '../../src/readings/compare-columns.js';
import { compareInspections, type Comparison } from '../../src/readings/compare-inspections.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import type { Inspection } from '../../src/readings/inspection.js';
import { readInspections } from '../../src/readings/read-inspections.js';

async function* once(text: string): AsyncGenerator<Uint8Array> {
  yield Buffer.from(text);
}

/** A keying from CSV text. */
export async function keyingOf(csv: string): Promise<Keying> {
  const reader = await readInspections(await readCsv(once(csv)), { dictionary: fieldDictionary(), name: 'keying.csv' });
  const inspections: Inspection[] = [];
  for await (const inspection of reader.inspections) inspections.push(inspection);
  return { columns: reader.columns, inspections };
}

/** Compares two CSV texts. */
export async function compareCsv(a: string, b: string): Promise<Comparison> {
  return compareInspections(fieldDictionary(), await keyingOf(a), await keyingOf(b));
}

/** The differences in short: column, texts, kind. */
export function inShort({ differences }: Comparison): string[] {
  return differences.map(({ column, cell_a, text_a, cell_b, text_b, kind }) => `${column} ${cell_a || '-'} ${JSON.stringify(text_a)} ${cell_b || '-'} ${JSON.stringify(text_b)} ${kind}`);
}
