import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { once } from '../support/once.js';
import { requireOutside } from '../support/recalculate.js';
import { convertAllByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { understoodOf } from './any-table.js';

/** Comma, double quote, UTF-8, from row 1; numbers whole rather than as they look; every sheet. */
const CSV = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1';

const INPUTS = ['invented-fleet-messy.csv', 'messy/loose-numbers.csv', 'messy/cell-units.csv', 'messy/formula-like.csv', 'messy/odd-headers.csv'];

const read = (bytes: Uint8Array, name: string): Promise<EvaluatedFleet> => evaluateReadings(bytes, { name });

/** Has LibreOffice convert a file of each input; they come in the same order. */
async function convertEach(files: readonly Uint8Array[], ending: string, filter: string, wanted: (number: number) => string): Promise<Uint8Array[]> {
  const made = await convertAllByLibreOffice(new Map(files.map((bytes, index) => [`${index}.${ending}`, bytes])), filter);
  return files.map((_, index) => {
    const file = made.get(wanted(index));
    if (!file) throw new Error(`LibreOffice wrote no ${wanted(index)}, but ${[...made.keys()].join(', ')}`);
    return file;
  });
}

/** Every input, and its workbook after LibreOffice made ODS of it and XLSX again, and CSV. It starts three times for all of them. */
const throughLibreOffice = once(async () => {
  // LibreOffice leaves a tab at the beginning of a text out of ODS, and of its CSV one apostrophe before an equals sign is taken for ours.
  const texts = INPUTS.map((input) => readFileSync(packagePath('samples', ...input.split('/')), 'utf8').replaceAll('\t', '').replaceAll("''=", "'="));
  const firsts = await Promise.all(texts.map((text) => read(Buffer.from(text), 'first.csv')));
  const workbooks = await Promise.all(firsts.map((first) => bytesOf(workbookOf(first))));
  const ods = await convertEach(workbooks, 'xlsx', 'ods', (number) => `${number}.ods`);
  const again = await convertEach(ods, 'ods', 'xlsx', (number) => `${number}.xlsx`);
  const csv = await convertEach(workbooks, 'xlsx', CSV, (number) => `${number}-Readings.csv`);
  return firsts.map((first, index) => ({ first, again: again[index]!, csv: csv[index]! }));
});

describe('an evaluated workbook keeps its inspections through LibreOffice', () => {
  it.for(INPUTS)('%s: as ODS and XLSX again, and as CSV', { timeout: 300_000 }, async (input, context) => {
    requireOutside(context, 'soffice');
    const { first, again, csv } = (await throughLibreOffice())[INPUTS.indexOf(input)]!;
    expect(understoodOf(await read(again, 'book.xlsx'))).toStrictEqual(understoodOf(first));
    expect(understoodOf(await read(csv, 'book.csv'))).toStrictEqual(understoodOf(first));
  });
});
