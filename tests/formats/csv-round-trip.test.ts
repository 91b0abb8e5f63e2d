import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCells, writeText } from './csv-text.js';

const awkward = fc.stringMatching(/^['"=+\-@,;|\t\r\n\0 a5.]{0,8}$/);
const cell = fc.oneof(fc.string({ unit: 'binary' }), awkward, fc.constantFrom('', '-5', "'-5", '\ufeff', 'sep=;', '=1+1', "'=1", '"', ' '));
const table = fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 8 });
const chunks = fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 1, maxLength: 5 });

describe('what writeCsv writes, readCsv reads back', () => {
  it.each([',', ';', '\t', '|'])('with the delimiter %j, in any chunks', async (delimiter) => {
    await fc.assert(
      fc.asyncProperty(table, chunks, async (rows, lengths) => {
        expect(await readCells(await writeText(rows, { delimiter }), { delimiter }, lengths)).toStrictEqual(rows);
      }),
      { numRuns: 400 },
    );
  });

  it('and the other way round without neutralising', async () => {
    await fc.assert(
      fc.asyncProperty(table, async (rows) => {
        expect(await readCells(await writeText(rows, { neutralise: false }), { delimiter: ',', restoreNeutralised: false })).toStrictEqual(rows);
      }),
      { numRuns: 200 },
    );
  });

  it('and nothing that a spreadsheet takes for a formula is left in what is written', async () => {
    await fc.assert(
      fc.asyncProperty(cell, async (text) => {
        const [[written]] = (await readCells(await writeText([[text]]), { delimiter: ',', restoreNeutralised: false })) as [[string]];
        expect(/^[=+\-@\t\r\0]/.test(written) && !/^[+-][\d.,]+$/.test(written)).toBe(false);
      }),
      { numRuns: 400 },
    );
  });

  it('ends any text with rows or a typed error', async () => {
    await fc.assert(
      fc.asyncProperty(fc.oneof(awkward, fc.string({ unit: 'binary' })), chunks, async (text, lengths) => {
        const outcome = await readCells(text, {}, lengths).catch((error: unknown) => error);
        expect(Array.isArray(outcome) || (outcome as { code?: string }).code === 'input_unreadable').toBe(true);
      }),
      { numRuns: 400 },
    );
  });
});
