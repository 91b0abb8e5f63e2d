import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { shippedPlan } from '../support/evaluate-rows.js';
import { bytesOf, textOf } from '../workbook/bytes-of.js';
import { anyTable, evaluateCells, understoodOf, type Cells } from './any-table.js';
import { encodeText, ENCODINGS, type Encoding } from './encode-text.js';

const plan = shippedPlan('common-practice');
const standard = plan.dictionary.fields.slice(0, plan.dictionary.standardCount);
const table = anyTable(standard);

const csvOf = (fleet: EvaluatedFleet, delimiter: string): Promise<string> => textOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations, delimiter));
const again = (bytes: Uint8Array, name: string): Promise<EvaluatedFleet> => evaluateReadings(bytes, { name, limits: 'common-practice' });

/** The fleet of a table; a table of blank rows is no input. */
async function fleetOf(cells: Cells): Promise<EvaluatedFleet> {
  const fleet = await evaluateCells(plan, cells);
  fc.pre(fleet.evaluations.length > 0);
  return fleet;
}

/** Bytes that are valid UTF-8 too are taken for it: nothing in them says that they are Windows-1252. */
function isAmbiguous(bytes: Uint8Array, encoding: Encoding): boolean {
  if (encoding !== 'Windows-1252' || bytes.every((byte) => byte < 0x80)) return false;
  return Buffer.from(bytes).toString('utf8').includes('\ufffd') === false;
}

/** Rows longer than the header, or delimiters in it, leave a short table in doubt of its delimiter; a first line names it. */
function leavesDoubt([header, ...rows]: Cells): boolean {
  return rows.some((row) => row.length > header!.length) || header!.some((cell) => /[,;\t|]/.test(String(cell)));
}

describe('what is written comes back: values, texts as found, columns of the office', () => {
  it.each([',', ';', '\t', '|'].flatMap((delimiter) => ENCODINGS.map((encoding) => [delimiter, encoding] as const)))('as CSV with %j in %s', { timeout: 120_000 }, async (delimiter, encoding) => {
    await fc.assert(
      fc.asyncProperty(table, async (cells) => {
        const first = await fleetOf(cells);
        const bytes = encodeText((leavesDoubt(cells) ? `sep=${delimiter}\r\n` : '') + (await csvOf(first, delimiter)), encoding);
        fc.pre(bytes !== null && !isAmbiguous(bytes, encoding));
        expect(understoodOf(await again(bytes!, 'again.csv'))).toStrictEqual(understoodOf(first));
      }),
      { numRuns: 60, seed: 20261101 },
    );
  });

  it('as a workbook', { timeout: 240_000 }, async () => {
    await fc.assert(
      fc.asyncProperty(table, async (cells) => {
        const first = await fleetOf(cells);
        const second = await again(await bytesOf(workbookOf(first)), 'again.xlsx');
        expect(understoodOf(second)).toStrictEqual(understoodOf(first));
      }),
      { numRuns: 60, seed: 20261102 },
    );
  });
});
