import { writeCsv, type CsvCell } from '../formats/write-csv.js';
import type { UnmatchedInspection } from '../readings/compare-inspections.js';
import type { ComparedReadings } from './compare-readings.js';

const HEADER = ['inspection_id', 'inspected_on', 'unit', 'column', 'kind', 'row_a', 'cell_a', 'text_a', 'row_b', 'cell_b', 'text_b'] as const;

/**
 * The differences as CSV, one line per cell; behind them one line for each inspection that only one keying has, of the
 * kind `missing` (in A only) or `extra` (in B only).
 *
 * @example for await (const line of comparisonCsv(compared)) process.stdout.write(line);
 */
export function comparisonCsv(compared: ComparedReadings): AsyncIterable<string> {
  return writeCsv(rows(compared));
}

function* rows({ differences, missing, extra }: ComparedReadings): Generator<readonly CsvCell[]> {
  yield HEADER;
  for (const one of differences) {
    yield [one.inspection_id, one.inspected_on, one.unit, one.column, one.kind, one.row_a, one.cell_a, one.text_a, one.row_b, one.cell_b, one.text_b];
  }
  for (const one of missing) yield [...unmatched(one, 'missing'), one.row, '', '', '', '', ''];
  for (const one of extra) yield [...unmatched(one, 'extra'), '', '', '', one.row, '', ''];
}

function unmatched({ inspection_id, inspected_on, unit }: UnmatchedInspection, kind: 'missing' | 'extra'): CsvCell[] {
  return [inspection_id, inspected_on, unit, '', kind];
}
