import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Comparison } from '../../src/readings/compare-inspections.js';
import { compareCsv, inShort } from './compare-keying.js';

// Which rows belong together was worked out by hand from the rule: inspection_id, then unit and date, then either alone.

const HEADER = 'inspection_id,inspected_on,unit,site,inspector,cut_in,cut_out,buildup_from,buildup_to,notes';
const keyed = (...rows: readonly string[]): string => [HEADER, ...rows].join('\n');
const rowsOf = ({ differences, missing, extra, matched_by }: Comparison): unknown => ({ pairs: [...new Set(differences.map(({ row_a, row_b }) => `${row_a}=${row_b}`))], missing: missing.map(({ row }) => row), extra: extra.map(({ row }) => row), by: Object.values(matched_by) });

const A1 = ',2026-03-01,K-101,North,Ann,100,120,60,120,first';
const A2 = ',2026-03-01,K-102,North,Ann,98,118,55,118,second';

describe('rows are matched', () => {
  it('by an id that stands once on either side, whatever else was keyed beside the unit', async () => {
    const compared = await compareCsv(keyed('I-1,2026-03-01,K-101,North,Ann,100,120,60,120,x'), keyed(' I-1 ,2026-09-30,K-101,South,Bob,90,110,50,110,y'));
    expect(rowsOf(compared)).toStrictEqual({ pairs: ['2=2'], missing: [], extra: [], by: [1, 0, 0] });
    expect(compared.differences).toHaveLength(8);
  });

  it('not by an id when neither the unit nor the date agrees', async () => {
    const compared = await compareCsv(keyed('I-1,2026-03-01,K-101,North,Ann,100,120,60,120,x'), keyed('I-1,2026-09-30,Z-9,South,Bob,90,110,50,110,y'));
    expect(rowsOf(compared)).toStrictEqual({ pairs: [], missing: [2], extra: [2], by: [0, 0, 0] });
  });

  it('not by an id that was keyed twice', async () => {
    const compared = await compareCsv(keyed(`I-1${A1}`, `I-2${A2}`), keyed(`I-1${A2}`, `I-1${A1}`));
    expect(inShort(compared)).toStrictEqual(['inspection_id A3 "I-2" A2 "I-1" value']);
    expect(compared.matched_by).toStrictEqual({ inspection_id: 0, 'unit and date': 2, 'unit or date': 0 });
  });

  it.each(['K101', 'k 101', 'K-0101', 'k–101'])('by unit and date, though the unit is written %s', async (unit) => {
    const compared = await compareCsv(keyed(A2, A1), keyed(A1.replace('K-101', unit)));
    expect(compared.matched_by['unit and date']).toBe(1);
    expect(compared.differences.map(({ column }) => column)).toStrictEqual(['unit']);
    expect(compared.missing.map(({ unit: missing }) => missing)).toStrictEqual(['K-102']);
  });

  it('among several of one unit and date by the most equal cells', async () => {
    const morning = ',2026-03-01,K-101,North,Ann,100,120,60,120,morning';
    const noon = ',2026-03-01,K-101,North,Ann,90,110,60,110,noon';
    const night = ',2026-03-01,K-101,North,Bob,91,111,50,111,night';
    const compared = await compareCsv(keyed(morning, noon, night), keyed(night.replace('111', '112'), morning, noon.replace('noon', 'non')));
    expect(inShort(compared)).toStrictEqual(['notes J3 "noon" J4 "non" value', 'cut_out G4 "111" G2 "112" value']);
  });

  it('by the date where the unit slipped, and by the unit where the date slipped', async () => {
    const compared = await compareCsv(keyed(A1, A2), keyed(A2.replace('03-01', '03-11'), A1.replace('K-101', 'K-110')));
    expect(inShort(compared)).toStrictEqual(['unit C2 "K-101" C3 "K-110" value', 'inspected_on B3 "2026-03-01" B2 "2026-03-11" value']);
    expect(compared.matched_by['unit or date']).toBe(2);
  });

  it('by a unit whose date was left blank', async () => {
    expect(inShort(await compareCsv(keyed(A1), keyed(A1.replace('2026-03-01', ''))))).toStrictEqual(['inspected_on B2 "2026-03-01" B2 "" blank']);
  });

  it('not by the unit alone when more than half of the cells differ', async () => {
    // 9 cells are filled; unit, site and 2 more agree, 5 differ. With one more that agrees it is 5 of 9.
    const compared = await compareCsv(keyed(A1), keyed(',2026-07-07,K-101,North,Ann,101,120,61,121,other'));
    expect(rowsOf(compared)).toStrictEqual({ pairs: [], missing: [2], extra: [2], by: [0, 0, 0] });
    const nearer = await compareCsv(keyed(A1), keyed(',2026-07-07,K-101,North,Ann,100,120,61,121,other'));
    expect(nearer.matched_by['unit or date']).toBe(1);
  });

  it('one to one when a row was keyed twice', async () => {
    expect(rowsOf(await compareCsv(keyed(A1, A2), keyed(A1, A1, A2)))).toStrictEqual({ pairs: [], missing: [], extra: [3], by: [0, 2, 0] });
  });

  it('many alike in one go', async () => {
    const many = new Array<string>(2000).fill(A1);
    const compared = await compareCsv(keyed(...many), keyed(...many.slice(5).map((row, index) => (index < 3 ? row.replace(',100,', ',99,') : row)), A2));
    expect(compared.matched).toBe(1995);
    expect(compared.differences.map(({ column }) => column)).toStrictEqual(['cut_in', 'cut_in', 'cut_in']);
    expect([compared.missing.length, compared.extra.length]).toStrictEqual([5, 1]);
  });

  it('20,000 in another order and with a slip in each, all of one unit and day', { timeout: 120_000 }, async () => {
    let seed = 1;
    const random = (below: number): number => (seed = (seed * 48271) % 2147483647) % below;
    const pressures = Array.from({ length: 20_000 }, () => [80 + random(40), 100 + random(40), 50 + random(40), 100 + random(40), 1000 + random(900_000)]);
    const header = 'inspected_on,unit,site,cut_in,cut_out,buildup_from,buildup_to,odometer';
    const row = (numbers: readonly number[]): string => `2026-03-01,K-101,North,${numbers.join(',')}`;
    const a = [header, ...pressures.map(row)].join('\n');
    const b = [header, ...pressures.map(([cutIn, ...rest]) => row([cutIn! + 41, ...rest])).reverse()].join('\n');
    const compared = await compareCsv(a, b);
    expect(compared.matched).toBe(20_000);
    // Chance alone gives two rows four equal numbers out of a million odometers and 40 x 40 x 40 pressures: none is expected.
    expect(compared.columns.filter(({ differences }) => differences > 0).map(({ column, differences }) => [column, differences])).toStrictEqual([['cut_in', 20_000]]);
    expect(compared.differences.every(({ row_a, row_b }) => row_a + row_b === 20_003)).toBe(true);
  });
});

describe('a large group, of which not every pair is looked at', () => {
  const header = 'inspected_on,unit,site,cut_in,cut_out,buildup_from,buildup_to,notes';
  const rows = (slip: (row: string[], index: number) => string[]): string[][] =>
    Array.from({ length: 90 }, (_, index) => slip(['2026-03-01', 'K-1', 'North', String(80 + (index % 7)), String(100 + (index % 11)), String(50 + (index % 13)), String(100 + (index % 5)), `n${index % 17}`], index));
  const csv = (all: readonly (readonly string[])[]): string => [header, ...all.map((row) => row.join(','))].join('\n');
  // 7 x 11 x 13 combinations of three columns: no two of the 90 rows are alike, and a slip leaves two of the three.
  const a = csv(rows((row) => row));
  const slippedRows = rows((row, index) => row.map((cell, column) => (column === 3 + (index % 4) ? '99' : cell)));

  it('pairs each row with its own', async () => {
    const compared = await compareCsv(a, csv(slippedRows));
    expect(compared.matched).toBe(90);
    expect(compared.differences.filter(({ row_a, row_b }) => row_a !== row_b).length).toBe(0);
    expect(compared.differences.length).toBe(90);
  });

  it('and does the same the other way round, and in another order', async () => {
    const [one, other] = [await compareCsv(a, csv(slippedRows)), await compareCsv(csv([...slippedRows].reverse()), a)];
    const said = (texts: readonly (readonly string[])[]): string[] => texts.map((pair) => pair.join(' ')).sort();
    expect(said(other.differences.map(({ column, text_a, text_b }) => [column, text_b, text_a]))).toStrictEqual(said(one.differences.map(({ column, text_a, text_b }) => [column, text_a, text_b])));
  });
});

/** Small stacks with many rows alike, so that ties are common. */
const stack = fc.array(
  fc.tuple(fc.constantFrom('', 'I-1', 'I-2', 'I-3'), fc.constantFrom('2026-03-01', '2026-03-02', ''), fc.constantFrom('K-1', 'K01', 'K-2', ''), fc.constantFrom('North', 'north', ''), fc.constantFrom('', 'Ann'), fc.constantFrom('100', '7 bar', 'x', ''), fc.constantFrom('120', '121')),
  { minLength: 1, maxLength: 8 },
);
const csvOf = (rows: readonly (readonly string[])[]): string => ['inspection_id,inspected_on,unit,site,inspector,cut_in,cut_out', ...rows.map((row) => row.join(','))].join('\n');

describe('whatever was keyed', () => {
  it('swapping the keyings swaps the result', async () => {
    await fc.assert(
      fc.asyncProperty(stack, stack, async (left, right) => {
        const one = await compareCsv(csvOf(left), csvOf(right));
        const other = await compareCsv(csvOf(right), csvOf(left));
        const mirrored = other.differences.map(({ row_a, row_b, cell_a, cell_b, text_a, text_b, column, kind }) => ({ row_a: row_b, row_b: row_a, cell_a: cell_b, cell_b: cell_a, text_a: text_b, text_b: text_a, column, kind }));
        const plain = one.differences.map(({ row_a, row_b, cell_a, cell_b, text_a, text_b, column, kind }) => ({ row_a, row_b, cell_a, cell_b, text_a, text_b, column, kind }));
        const inOrder = (all: typeof plain): string[] => all.map((difference) => JSON.stringify(difference)).sort();
        expect(inOrder(mirrored)).toStrictEqual(inOrder(plain));
        expect([other.extra, other.missing]).toStrictEqual([one.missing, one.extra]);
        expect([other.matched, other.compared_cells, other.agreeing_cells]).toStrictEqual([one.matched, one.compared_cells, one.agreeing_cells]);
      }),
      { numRuns: 300 },
    );
  });

  it('the counts add up, and no row is used twice', async () => {
    await fc.assert(
      fc.asyncProperty(stack, stack, async (left, right) => {
        const compared = await compareCsv(csvOf(left), csvOf(right));
        const filled = (rows: readonly (readonly string[])[]): number => rows.filter((row) => row.some((cell) => cell !== '')).length;
        expect(compared.matched + compared.missing.length).toBe(filled(left));
        expect(compared.matched + compared.extra.length).toBe(filled(right));
        expect(compared.compared_cells - compared.agreeing_cells).toBe(compared.differences.length);
        expect(Object.values(compared.matched_by).reduce((sum, count) => sum + count)).toBe(compared.matched);
      }),
      { numRuns: 200 },
    );
  });

  it('moving rows changes nothing but row numbers', async () => {
    const moved = stack.chain((rows) => fc.tuple(fc.constant(rows), fc.shuffledSubarray(rows, { minLength: rows.length })));
    await fc.assert(
      fc.asyncProperty(moved, stack, async ([rows, shuffled], other) => {
        const said = (compared: Comparison): unknown => [compared.differences.map(({ column, text_a, text_b, kind }) => `${column} ${text_a} ${text_b} ${kind}`).sort(), compared.missing.map(({ row: _, ...rest }) => JSON.stringify(rest)).sort(), compared.extra.map(({ row: _, ...rest }) => JSON.stringify(rest)).sort()];
        expect(said(await compareCsv(csvOf(shuffled), csvOf(other)))).toStrictEqual(said(await compareCsv(csvOf(rows), csvOf(other))));
      }),
      { numRuns: 300 },
    );
  });

  it('a keying and itself, in another order, are the same', async () => {
    const moved = stack.chain((rows) => fc.tuple(fc.constant(rows), fc.shuffledSubarray(rows, { minLength: rows.length })));
    await fc.assert(
      fc.asyncProperty(moved, async ([rows, shuffled]) => {
        const compared = await compareCsv(csvOf(rows), csvOf(shuffled));
        const unknown = rows.filter(([, date, unit]) => date === '' && unit === '').length;
        expect(compared.differences).toStrictEqual([]);
        // A row without id, unit and date cannot be matched with anything.
        expect(compared.missing.length).toBeLessThanOrEqual(unknown);
      }),
      { numRuns: 200 },
    );
  });
});
