import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guessCsvDelimiter } from '../../src/formats/guess-csv-delimiter.js';
import { readJson } from '../../src/formats/read-json.js';
import { escapeCellText } from '../../src/formats/xlsx-package/cell-text.js';
import { formulaAt, formulaPieces } from '../../src/formats/xlsx-package/formula-pieces.js';
import { parseCellPosition } from '../../src/formats/xlsx-reader/cell-position.js';
import { dateFormat, isDateCode } from '../../src/formats/xlsx-reader/date-formats.js';
import { decodeXmlEscapes } from '../../src/formats/xlsx-reader/decode-xml-escapes.js';
import { shiftFormula } from '../../src/formats/xlsx-reader/shift-formula.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { all, readRows } from '../formats/csv-text.js';
import { anyText } from './any-table.js';

const RUNS = { numRuns: 1000, seed: 20261113 };
const anything = fc.oneof(anyText, fc.string({ unit: 'binary', maxLength: 80 }));
const awkward = fc.stringMatching(/^["',;|\t\r\n=a1 ]{0,40}$/);

describe('any text as CSV', () => {
  it('has a delimiter, and is read to its end or refused', async () => {
    await fc.assert(
      fc.asyncProperty(fc.oneof(anything, awkward), async (text) => {
        expect(['\t', ';', '|', ',']).toContain(guessCsvDelimiter(text));
        try {
          const rows = await readRows(text);
          // Rows are counted by lines, so that their numbers only grow.
          for (const [index, { number, cells }] of rows.entries()) {
            expect(number > (rows[index - 1]?.number ?? 0)).toBe(true);
            expect(cells.every((cell) => typeof cell === 'string')).toBe(true);
          }
        } catch (error) {
          expect(error).toBeInstanceOf(TreadlebookError);
        }
      }),
      RUNS,
    );
  });

  it('as any bytes, in any pieces, gives the same as in one', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 60 }), fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 4 }), async (bytes, lengths) => {
        const outcome = async (pieces?: readonly number[]): Promise<unknown> => {
          try {
            return await readRows(bytes, { delimiter: ',' }, pieces);
          } catch (error) {
            expect(error).toBeInstanceOf(TreadlebookError);
            return (error as TreadlebookError).message;
          }
        };
        expect(await outcome(lengths)).toStrictEqual(await outcome());
      }),
      RUNS,
    );
  });
});

describe('any JSON', () => {
  it('is a table or is refused; every value of a flat list of objects is in its place', async () => {
    await fc.assert(
      fc.asyncProperty(fc.oneof(anything, fc.json()), async (text) => {
        try {
          await all(readJson(text, 'x.json').rows);
        } catch (error) {
          expect(error).toBeInstanceOf(TreadlebookError);
          expect((error as TreadlebookError).code).toBe('input_unreadable');
        }
      }),
      RUNS,
    );
    const key = fc.oneof(anything, fc.constantFrom('__proto__', 'constructor', 'toString', '', '0', '7', 'unit'));
    const record = fc.uniqueArray(fc.tuple(key, fc.oneof(anything, fc.double({ noNaN: true, noDefaultInfinity: true }), fc.boolean(), fc.constant(null))), { selector: ([name]) => name, maxLength: 6 });
    await fc.assert(
      fc.asyncProperty(fc.array(record, { minLength: 1, maxLength: 4 }), async (records) => {
        const text = `[${records.map((entries) => `{${entries.map(([name, value]) => `${JSON.stringify(name)}:${JSON.stringify(value)}`).join(',')}}`).join(',')}]`;
        const [header, ...rows] = await all(readJson(text, 'x.json').rows);
        expect(new Set(header!.cells).size).toBe(header!.cells.length);
        for (const [index, entries] of records.entries()) {
          for (const [name, value] of entries) expect(rows[index]!.cells[header!.cells.indexOf(name)]).toStrictEqual(JSON.parse(JSON.stringify(value)));
        }
      }),
      RUNS,
    );
  });
});

describe('any place in a sheet', () => {
  it('is read from what is written of it, and nothing else is a place', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 16_384 }), fc.integer({ min: 1, max: 1_048_576 }), (column, row) => {
        const written = `${columnLetters(column - 1)}${row}`;
        expect(parseCellPosition(written)).toStrictEqual({ column, row });
        expect(parseCellPosition(written.toLowerCase())).toStrictEqual({ column, row });
        for (const other of [` ${written}`, `${written} `, `$${written}`, `${written}:A1`, written.replace(/\d+$/, ''), written.replace(/^[A-Z]+/, ''), `${written}.0`]) expect(parseCellPosition(other)).toBeNull();
      }),
      RUNS,
    );
    fc.assert(
      fc.property(anything, (text) => {
        const place = parseCellPosition(text);
        expect(place === null).toBe(!/^[A-Za-z]+0*[1-9][0-9]*$/.test(text));
      }),
      RUNS,
    );
  });
});

describe('any format code', () => {
  it('shows a date or does not; what stands in quotes, in brackets of colour or behind a backslash never decides', () => {
    const plain = fc.stringMatching(/^[#0,.% ?+\-()/]{0,8}$/);
    fc.assert(
      fc.property(plain, fc.stringMatching(/^[^"]{0,6}$/u), fc.constantFrom('d', 'm', 'yy', 'h', 'ss', '[h]', '[mm]', 'yyyy-mm-dd'), (code, words, date) => {
        expect(isDateCode(code)).toBe(false);
        for (const literal of [`"${words}"`, '[Red]', '[Color5]', '[>=100]', '[$-409]', '\\d', '\\y', '_m', '*s']) expect([literal, isDateCode(literal + code)]).toStrictEqual([literal, false]);
        expect(isDateCode(`"${words}"${date}`)).toBe(true);
        expect(isDateCode(date.toUpperCase())).toBe(true);
      }),
      RUNS,
    );
    fc.assert(
      fc.property(fc.oneof(fc.integer(), fc.double()), fc.option(anything, { nil: undefined }), (id, code) => {
        const format = dateFormat(id, code);
        if (code !== undefined) expect(format).toBe(isDateCode(code) ? code : null);
        else if (format !== null) expect(isDateCode(format)).toBe(true);
      }),
      RUNS,
    );
  });
});

describe('any text in a cell', () => {
  it('comes back from its escapes, half characters aside; and what has none is left alone', () => {
    const tricky = fc.array(fc.constantFrom('_', 'x', '000D', '005F', '_x', '_x000D_', '\r', '\u0000', '\ufffe', 'X', 'a', '\ud83d\ude00'), { maxLength: 10 }).map((pieces) => pieces.join(''));
    fc.assert(
      fc.property(fc.oneof(anything, tricky), (text) => {
        const whole = text.replace(/\p{Surrogate}/gu, '\ufffd');
        const escaped = escapeCellText(text);
        expect(decodeXmlEscapes(escaped)).toBe(whole);
        // XML 1.0, production 2: the characters that a document may hold.
        expect(escaped).toMatch(/^[\t\n\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]*$/u);
        if (/^[ -~]*$/.test(text) && !text.includes('_x')) expect(escaped).toBe(text);
      }),
      RUNS,
    );
  });
});

const reference = fc.tuple(fc.boolean(), fc.integer({ min: 1, max: 60 }), fc.boolean(), fc.integer({ min: 1, max: 200 })).map(([fixedColumn, column, fixedRow, row]) => `${fixedColumn ? '$' : ''}${columnLetters(column - 1)}${fixedRow ? '$' : ''}${row}`);
const piece = fc.oneof({ weight: 4, arbitrary: reference }, fc.constantFrom('1.5', '"A1"', '"a""B2"', "'A1 b'!", 'Sheet1!', 'SUM(', 'LOG10(', ')', ',', '+', ':', '[1]', 'A1_b', 'TRUE', 'A:A', '$B:C', '1:1', '#REF!', ' ', 'Table[A1]', 'É1'));
const formula = fc.array(piece, { maxLength: 12 }).map((pieces) => pieces.join(''));

describe('any formula', () => {
  it('shifted by nothing is itself; shifted twice is shifted by the sum; what is fixed does not move', () => {
    fc.assert(
      fc.property(fc.oneof(formula, anything), fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 50 }), (text, rows, columns) => {
        const shifted = shiftFormula(text);
        expect(shiftFormula(shifted(rows, columns))(0, 0)).toBe(shifted(rows, columns));
        if (!shifted(rows, columns).includes('#REF!')) expect(shiftFormula(shifted(rows, columns))(1, 1)).toBe(shifted(rows + 1, columns + 1));
      }),
      RUNS,
    );
    fc.assert(
      fc.property(formula, (text) => {
        expect(shiftFormula(text)(0, 0)).toBe(text);
      }),
      RUNS,
    );
    expect(shiftFormula('$A$1+A1+$A1+A$1+"A1"')(2, 3)).toBe('$A$1+D3+$A3+D$1+"A1"');
  });

  it('cut up at its rows and put together for its own row is itself', () => {
    fc.assert(
      fc.property(fc.oneof(formula, anything), fc.integer({ min: 1, max: 300 }), (text, row) => {
        expect(formulaAt(formulaPieces(text, row).pieces, row)).toBe(text);
      }),
      RUNS,
    );
  });

  it('for another row by its pieces is what shifting gives, where it names no other sheet or table', () => {
    const simple = fc.array(fc.oneof({ weight: 3, arbitrary: reference }, fc.constantFrom('1.5', '"A1"')), { minLength: 1, maxLength: 6 }).map((pieces) => pieces.join('+'));
    fc.assert(
      fc.property(simple, fc.integer({ min: 1, max: 100 }), fc.integer({ min: 0, max: 100 }), (text, row, down) => {
        expect(formulaAt(formulaPieces(text, row).pieces, row + down)).toBe(shiftFormula(text)(down, 0));
      }),
      RUNS,
    );
  });
});
