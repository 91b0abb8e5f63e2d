import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { requireOutside } from '../support/recalculate.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { understoodOf } from './any-table.js';

/** Comma, double quote, UTF-8, from row 1; numbers whole rather than as they look; every sheet. */
const CSV = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1';

const INPUTS = ['invented-fleet-messy.csv', 'messy/loose-numbers.csv', 'messy/cell-units.csv', 'messy/formula-like.csv', 'messy/odd-headers.csv'];

async function convert(bytes: Uint8Array, from: string, filter: string, wanted: string): Promise<Uint8Array> {
  const files = await convertByLibreOffice(bytes, from, filter);
  const file = files.get(wanted);
  if (!file) throw new Error(`LibreOffice wrote no ${wanted}, but ${[...files.keys()].join(', ')}`);
  return file;
}

const read = (bytes: Uint8Array, name: string): Promise<EvaluatedFleet> => evaluateReadings(bytes, { name });

describe('an evaluated workbook keeps its inspections through LibreOffice', () => {
  it.for(INPUTS)('%s: as ODS and XLSX again, and as CSV', { timeout: 300_000 }, async (input, context) => {
    requireOutside(context, 'soffice');
    // LibreOffice leaves a tab at the beginning of a text out of ODS, and of its CSV one apostrophe before an equals sign is taken for ours.
    const text = readFileSync(packagePath('samples', ...input.split('/')), 'utf8').replaceAll('\t', '').replaceAll("''=", "'=");
    const first = await read(Buffer.from(text), 'first.csv');
    const workbook = await bytesOf(workbookOf(first));
    const ods = await convert(workbook, 'book.xlsx', 'ods', 'book.ods');
    expect(understoodOf(await read(await convert(ods, 'book.ods', 'xlsx', 'book.xlsx'), 'book.xlsx'))).toStrictEqual(understoodOf(first));
    expect(understoodOf(await read(await convert(workbook, 'book.xlsx', CSV, 'book-Readings.csv'), 'book.csv'))).toStrictEqual(understoodOf(first));
  });
});
