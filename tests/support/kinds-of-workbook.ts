import { compareReadings } from '../../src/workbook/compare-readings.js';
import { comparisonWorkbook } from '../../src/workbook/comparison-workbook.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { reportWorkbook } from '../../src/workbook/report-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { EVERY_KIND_CSV, ownLimitSet } from '../workbook/every-kind-of-cell.js';
import { EVERY_ROW, READINGS, strokesCsv } from '../workbook/stroke-rows.js';
import { hostileBooks } from './hostile-books.js';

const CLEAN = 'samples/invented-fleet.csv';
const MESSY = 'samples/invented-fleet-messy.csv';

/** A workbook of every kind that the commands write, by what it is. */
export async function kindsOfWorkbook(): Promise<Map<string, Uint8Array>> {
  const own = ownLimitSet();
  const messy = await evaluateReadings(MESSY, { limits: 'us-new-hampshire' });
  const latest = messy.evaluations.find(({ unit, inspected_on }) => unit !== null && inspected_on !== null)!;
  const hostile = await hostileBooks();
  return new Map([
    ['evaluated', await bytesOf(workbookOf(await evaluateReadings(CLEAN)))],
    ['evaluated, messy', await bytesOf(workbookOf(messy))],
    ['evaluated, every kind of cell', await bytesOf(workbookOf(await evaluateReadings(Buffer.from(EVERY_KIND_CSV), { limits: own })))],
    ['evaluated, a twin without results', await bytesOf(workbookOf(await evaluateReadings(Buffer.from(EVERY_KIND_CSV), { limits: own }), { withoutResults: true }))],
    ['one inspection', await bytesOf(workbookOf(await evaluateReadings(Buffer.from(READINGS))))],
    ['no unit and no date', await bytesOf(workbookOf(await evaluateReadings(Buffer.from('unit,notes\n,x\n'))))],
    ['values of a period', await bytesOf(workbookOf(await evaluateReadings(CLEAN, { from: '2026-01-01', to: '2026-03-31', by: 'month' })))],
    ['blank', await bytesOf(blankWorkbook({ rows: 12 }))],
    ['blank, of two sets', await bytesOf(blankWorkbook({ rows: 3, limits: 'us-nevada,ca-quebec' }))],
    ['two sets', await bytesOf(workbookOf(await evaluateReadings(MESSY, { limits: 'common-practice,us-new-hampshire' })))],
    ['strokes', await bytesOf(workbookOf(await evaluateReadings(Buffer.from(READINGS), { strokes: Buffer.from(await strokesCsv(EVERY_ROW)) })))],
    ['baseline', await bytesOf(workbookOf(await evaluateReadings(CLEAN, { baseline: MESSY })))],
    ['report', await bytesOf(reportWorkbook(messy, { unit: latest.unit!, date: latest.inspected_on! }))],
    ['comparison', await bytesOf(comparisonWorkbook(await compareReadings(CLEAN, MESSY)))],
    ['comparison of the same', await bytesOf(comparisonWorkbook(await compareReadings(Buffer.from(READINGS), Buffer.from(READINGS))))],
    ...[...hostile.books].map(([name, bytes]) => [`hostile, ${name}`, bytes] as const),
  ]);
}
