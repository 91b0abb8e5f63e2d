import { compareReadings } from '../../src/workbook/compare-readings.js';
import { comparisonWorkbook } from '../../src/workbook/comparison-workbook.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { reportWorkbook } from '../../src/workbook/report-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { PAYLOADS, hostileFleet, type HostileInput } from './hostile-fleet.js';

/** Every kind of workbook that the commands write from one input. */
export interface HostileBooks {
  readonly input: HostileInput;
  readonly fleet: EvaluatedFleet;
  readonly books: ReadonlyMap<string, Uint8Array>;
}

/** The workbooks of a fleet in which every text starts with a payload. */
export const hostileBooks = (): Promise<HostileBooks> => booksOf((index) => PAYLOADS[index]!, PAYLOADS.length);

/** The workbooks of a harmless fleet of the same shape, with one report. */
export const harmlessBooks = (): Promise<HostileBooks> => booksOf((index) => `x${index}x `, 1);

async function booksOf(start: (index: number) => string, reports: number): Promise<HostileBooks> {
  const input = await hostileFleet(start);
  const { readings, keyedAgain, strokes, limits, names } = input;
  const fleet = await evaluateReadings(readings, { name: names.readings, limits, strokes, baseline: readings, baselineName: names.baseline });
  const plain = await evaluateReadings(readings, { name: names.readings, limits: [limits, 'us-nevada'] });
  const compared = await compareReadings(readings, keyedAgain, { names: { a: names.readings, b: names.keyedAgain } });
  const books = new Map([
    ['evaluated', await bytesOf(workbookOf(fleet))],
    ['two sets', await bytesOf(workbookOf(plain))],
    ['blank', await bytesOf(blankWorkbook({ limits, rows: 5 }))],
    ['comparison', await bytesOf(comparisonWorkbook(compared))],
  ]);
  for (const { unit, inspected_on: date } of fleet.evaluations.slice(0, reports)) books.set(`report ${books.size - 4}`, await bytesOf(reportWorkbook(fleet, { unit: unit!, date: date! })));
  return { input, fleet, books };
}
