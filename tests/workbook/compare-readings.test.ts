import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keyingsAgree } from '../../src/readings/compare-inspections.js';
import { compareReadings } from '../../src/workbook/compare-readings.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluatedCsv } from '../../src/workbook/evaluated-csv.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { packagePath } from '../../src/util/package-path.js';
import { bytesOf } from './bytes-of.js';
import { dialects, FORMATS, papers, rowsOf, type Paper } from './compare-dialects.js';

const formats = fc.constantFrom(...(Object.keys(FORMATS) as (keyof typeof FORMATS)[]));
const writing = fc.record({ dialect: dialects, format: formats });
const shuffled = papers.chain((stack) => fc.tuple(fc.constant(stack), fc.shuffledSubarray([...stack], { minLength: stack.length })));

describe('the same papers', () => {
  it('keyed in any format, dialect and order are the same', { timeout: 120_000 }, async () => {
    await fc.assert(
      fc.asyncProperty(shuffled, writing, writing, async ([stack, turned], one, other) => {
        const a = await FORMATS[one.format](rowsOf(stack, one.dialect));
        const b = await FORMATS[other.format](rowsOf(turned, other.dialect));
        const { differences, missing, extra, matched } = await compareReadings(a, b, { names: { a: `a.${one.format}`, b: `b.${other.format}` } });
        expect({ differences, missing, extra, matched }).toStrictEqual({ differences: [], missing: [], extra: [], matched: stack.length });
      }),
      { numRuns: 150 },
    );
  });

  it('with one reading keyed otherwise differ in that cell alone', { timeout: 120_000 }, async () => {
    const withOne = papers.filter((stack) => stack.some(({ cutOut, id }) => cutOut !== null && id !== ''));
    await fc.assert(
      fc.asyncProperty(withOne, writing, writing, async (stack, one, other) => {
        const at = stack.findIndex(({ cutOut, id }) => cutOut !== null && id !== '');
        const slipped = stack.map((paper, index): Paper => (index === at ? { ...paper, cutOut: paper.cutOut! + 9 } : paper));
        const a = await FORMATS[one.format](rowsOf(stack, one.dialect));
        const b = await FORMATS[other.format](rowsOf(slipped, other.dialect));
        const { differences, missing, extra } = await compareReadings(a, b, { names: { a: 'a', b: 'b' } });
        expect([missing, extra]).toStrictEqual([[], []]);
        expect(differences.map(({ column, kind, inspection_id }) => [column, kind, inspection_id])).toStrictEqual([['cut_out', 'value', stack[at]!.id]]);
      }),
      { numRuns: 60 },
    );
  });
});

describe('an evaluated fleet', () => {
  it.each(['invented-fleet.csv', 'invented-fleet-messy.csv'])('%s is the same as its input, as a workbook and as CSV', async (name) => {
    const input = packagePath('samples', name);
    const fleet = await evaluateReadings(input);
    for (const bytes of [await bytesOf(workbookOf(fleet)), await bytesOf(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations))]) {
      const compared = await compareReadings(input, bytes);
      expect({ differences: compared.differences, missing: compared.missing, extra: compared.extra }).toStrictEqual({ differences: [], missing: [], extra: [] });
      expect(keyingsAgree(compared)).toBe(true);
      expect(compared.matched).toBe(fleet.evaluations.length);
    }
  });
});

describe('cells below no header', () => {
  it('are compared, and named by where they stand', async () => {
    const csv = (last: string): Uint8Array => Buffer.from(`unit,inspected_on\nK-1,2026-03-01\nK-2,2026-03-01,${last}\n`);
    const { differences } = await compareReadings(csv('x,y'), csv('x,,z'));
    expect(differences.map(({ column, cell_a, text_a, cell_b, text_b }) => [column, cell_a, text_a, cell_b, text_b])).toStrictEqual([['(no header)', 'D3', 'y', 'E3', 'z']]);
  });
});

describe('what cannot be compared', () => {
  const ok = Buffer.from('unit,inspected_on\nK-1,2026-03-01\n');

  it.each([
    ['nothing', '', 'input_empty'],
    ['a header alone', 'unit,inspected_on\n', 'input_empty'],
    ['no unit', 'colour\nred\n', 'header_missing'],
  ])('%s is refused, on either side', async (_, text, code) => {
    await expect(compareReadings(Buffer.from(text), ok)).rejects.toMatchObject({ name: 'TreadlebookError', code });
    await expect(compareReadings(ok, Buffer.from(text), { names: { b: 'second.csv' } })).rejects.toMatchObject({ code, where: expect.stringContaining('second.csv') as string });
  });

  it('a sheet that is not there is refused', async () => {
    const book = await FORMATS.xlsx([['unit', 'inspected_on'], ['K-1', '2026-03-01']]);
    await expect(compareReadings(book, book, { sheet: 'Other' })).rejects.toMatchObject({ code: 'input_unreadable' });
    // Only one of the two is a workbook: the sheet is meant for that one.
    expect((await compareReadings(book, ok, { sheet: 'Keyed', names: { b: 'second.csv' } })).matched).toBe(1);
    expect((await compareReadings(ok, book, { sheet: 'Keyed', names: { a: 'first.csv' } })).matched).toBe(1);
    await expect(compareReadings(ok, ok, { sheet: 'Keyed', names: { a: 'first.csv', b: 'second.csv' } })).rejects.toMatchObject({ code: 'input_unreadable' });
  });

  it('dates of an unknown order are compared as text, and by their meaning once the order is told', async () => {
    const [slashes, iso] = [Buffer.from('unit,inspected_on\nK-1,4/3/2026\n'), Buffer.from('unit,inspected_on\nK-1,2026-03-04\n')];
    expect((await compareReadings(slashes, slashes)).differences).toStrictEqual([]);
    expect((await compareReadings(slashes, iso)).differences.map(({ kind }) => kind)).toStrictEqual(['not understood']);
    expect((await compareReadings(slashes, iso, { dateOrder: 'dmy' })).differences).toStrictEqual([]);
    expect((await compareReadings(slashes, iso, { dateOrder: 'mdy' })).differences.map(({ kind, text_a }) => [kind, text_a])).toStrictEqual([['value', '4/3/2026']]);
  });
});
