import { TreadlebookError } from '../util/treadlebook-error.js';
import { capsOf } from './input-caps.js';
import { CsvRecordSplitter } from './split-csv-records.js';
import type { CsvRecord } from './split-csv-records.js';

/** On a tie the earlier one wins: a comma is last because it is also a decimal mark. */
const CANDIDATES = ['\t', ';', '|', ','];
const RECORDS = 100;

/**
 * The delimiter among tab, semicolon, bar and comma that cuts the first records of a CSV text most evenly, a first
 * record of the usual width counting extra. A comma where nothing decides.
 *
 * @param sample the beginning of the text
 * @example guessCsvDelimiter('unit;loss\nT-104;1,5\nT-105;2,5\n') // ';'
 */
export function guessCsvDelimiter(sample: string): string {
  let best = ',';
  let bestScore = 0;
  for (const delimiter of CANDIDATES) {
    const score = evenness(columnCounts(sample, delimiter));
    if (score > bestScore) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

function columnCounts(sample: string, delimiter: string): number[] {
  const caps = capsOf('csv', { fieldLength: sample.length + 1, columns: sample.length + 1 });
  const splitter = new CsvRecordSplitter({ delimiter, name: '', firstLine: 1, caps });
  const records: CsvRecord[] = [];
  try {
    splitter.push(sample, records);
    if (records.length === 0) splitter.end(records);
  } catch (error) {
    if (!(error instanceof TreadlebookError)) throw error;
  }
  return records.filter((record) => record.text.trim() !== '').slice(0, RECORDS).map((record) => record.columns);
}

function evenness(counts: readonly number[]): number {
  const frequency = new Map<number, number>();
  for (const count of counts) frequency.set(count, (frequency.get(count) ?? 0) + 1);
  const [usual, times] = [...frequency].reduce((most, next) => (next[1] > most[1] || (next[1] === most[1] && next[0] > most[0]) ? next : most), [1, 0]);
  if (usual === 1) return 0;
  return times / counts.length + (counts[0] === usual ? 0.5 : 0);
}
