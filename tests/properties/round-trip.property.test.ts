import { isUtf8 } from 'node:buffer';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { shippedPlan } from '../support/evaluate-rows.js';
import { bytesOf, textOf } from '../workbook/bytes-of.js';
import { anyTable, anyText, evaluateCells, understoodOf, type Cells } from './any-table.js';
import { encodeText, ENCODINGS, type Encoding } from './encode-text.js';

const plan = shippedPlan('common-practice');
const standard = plan.dictionary.fields.slice(0, plan.dictionary.standardCount);
/** Any header but one that begins as a number does, or holds a character that no sheet can. */
const ownHeader = anyText.filter((header) => !/^\s*[\d.]|_x[\da-f]{4}_|[\0-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]/i.test(header));
const table = anyTable(standard, ownHeader);

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
  return encoding === 'Windows-1252' && bytes.some((byte) => byte >= 0x80) && isUtf8(bytes);
}

/** A text with what Windows-1252 has no byte for put otherwise. */
function fitted(cells: Cells, encoding: Encoding): Cells {
  if (encoding !== 'Windows-1252') return cells;
  const fit = (text: string): string => Array.from(text, (character) => (encodeText(character, encoding) ? character : 'ü')).join('');
  return cells.map((row) => row.map((cell) => (typeof cell === 'string' ? fit(cell) : cell)));
}

/** Rows longer than the header, or delimiters in it, leave a short table in doubt of its delimiter; a first line names it. */
function leavesDoubt([header, ...rows]: Cells): boolean {
  return rows.some((row) => row.length > header!.length) || header!.some((cell) => /[,;\t|]/.test(String(cell)));
}

describe('what is written comes back: values, texts as found, columns of the office', () => {
  it.each([',', ';', '\t', '|'].flatMap((delimiter) => ENCODINGS.map((encoding) => [delimiter, encoding] as const)))('as CSV with %j in %s', { timeout: 120_000 }, async (delimiter, encoding) => {
    await fc.assert(
      fc.asyncProperty(table, async (drawn) => {
        const cells = fitted(drawn, encoding);
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
