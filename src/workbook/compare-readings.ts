import { compareInspections, type Comparison } from '../readings/compare-inspections.js';
import type { Keying } from '../readings/compare-columns.js';
import { fieldDictionary } from '../readings/dictionary.js';
import type { Inspection } from '../readings/inspection.js';
import type { Problem } from '../readings/problem.js';
import { countedRow } from '../util/continued-sheets.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { extraCell } from './cell-values.js';
import { openReadings, type OpenedReadings, type OpenOptions } from './open-readings.js';
import type { SourceInfo } from './source-info.js';

/** How to read two keyings. */
export interface CompareOptions extends Omit<OpenOptions, 'name' | 'format' | 'sheet'> {
  /** The sheet of each workbook; when only one of the two is a workbook, of that one. */
  readonly sheet?: string;
  /** Names for messages, for inputs that are not paths. */
  readonly names?: { readonly a?: string; readonly b?: string };
  /** Called now and then with the number of inspections so far. */
  readonly onProgress?: (inspections: number) => void;
}

/** One of the two keyings. */
export interface ComparedSource extends SourceInfo {
  /** Other sheets, hidden ones too, that hold a table of readings and were not compared. */
  readonly sheets_not_read: readonly string[];
}

/** Two keyings of the same paper, compared. */
export interface ComparedReadings extends Comparison {
  readonly a: ComparedSource;
  readonly b: ComparedSource;
}

/**
 * Reads two keyings of the same stack of paper and says cell by cell where they differ. They may be in different formats,
 * with their rows and columns in different orders.
 *
 * @throws TreadlebookError as `openReadings`, and `input_empty` when there is no inspection below a header
 * @example
 * const { differences, missing, agreement } = await compareReadings('first.csv', 'second.xlsx');
 * console.log(differences.map(({ cell_a, text_a, text_b }) => `${cell_a}: ${text_a} or ${text_b}`));
 */
export async function compareReadings(a: Input, b: Input, options: CompareOptions = {}): Promise<ComparedReadings> {
  const dictionary = options.dictionary ?? fieldDictionary();
  const [nameOfA, nameOfB] = [options.names?.a ?? pathOf(a), options.names?.b ?? pathOf(b)];
  const onlyB = isTableFile(nameOfA) && !isTableFile(nameOfB);
  const onlyA = isTableFile(nameOfB) && !isTableFile(nameOfA);
  const first = await readKeying(a, { ...options, dictionary, name: options.names?.a, sheet: onlyB ? undefined : options.sheet }, options.onProgress);
  const second = await readKeying(b, { ...options, dictionary, name: options.names?.b, sheet: onlyA ? undefined : options.sheet }, (count) => options.onProgress?.(first.source.inspections + count));
  return { a: first.source, b: second.source, ...compareInspections(dictionary, first.keying, second.keying) };
}

type Input = string | Uint8Array | AsyncIterable<Uint8Array>;

async function readKeying(input: Input, options: OpenOptions, onProgress: ((inspections: number) => void) | undefined): Promise<{ readonly keying: Keying; readonly source: ComparedSource }> {
  const opened = await openReadings(input, options);
  return keyingOf(opened, onProgress).finally(() => opened.close());
}

async function keyingOf({ reader, source, otherSheets }: OpenedReadings, onProgress: ((inspections: number) => void) | undefined): Promise<{ readonly keying: Keying; readonly source: ComparedSource }> {
  const inspections: Inspection[] = [];
  for await (const inspection of reader.inspections) {
    inspections.push(inspection.extra.length === 0 ? inspection : { ...inspection, extra: inspection.extra.map(extraCell) });
    if (inspections.length % 1000 === 0) onProgress?.(inspections.length);
  }
  if (inspections.length === 0) {
    throw new TreadlebookError({ code: 'input_empty', where: source().name, what: 'there is no inspection below the header', mend: 'check that this is the right file' });
  }
  return { keying: { columns: reader.columns, inspections, cellsBeyond: cellsBeyondHeader(reader.problems, reader.sheet), sheet: reader.sheet }, source: { ...source(), sheets_not_read: otherSheets } };
}

function pathOf(input: Input): string {
  return typeof input === 'string' ? input : '';
}

/** True for a file that has no sheets, by its name. */
function isTableFile(name: string): boolean {
  return /\.(?:csv|tsv|tab|txt|json)$/i.test(name);
}

/** The cells that rows ran over into, by row. */
function cellsBeyondHeader(problems: readonly Problem[], start: string): Map<number, string[]> {
  const cells = new Map<number, string[]>();
  for (const { code, sheet, row, cell } of problems) {
    if (code !== 'cells_beyond_header' || row === null) continue;
    const number = countedRow(start, { sheet, row });
    const ofRow = cells.get(number);
    if (ofRow) ofRow.push(cell);
    else cells.set(number, [cell]);
  }
  return cells;
}
