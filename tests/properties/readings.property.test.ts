import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ReshapedTable } from '../../src/readings/checklist-reshaped-table.js';
import { cleanCellText } from '../../src/readings/clean-cell-text.js';
import { columnMapText, describeColumns, parseColumnMap } from '../../src/readings/column-map.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { foldHeader, readHeader } from '../../src/readings/find-header.js';
import { formatAsFound, parseAsFound } from '../../src/readings/as-found-text.js';
import { formatTime } from '../../src/readings/format-time.js';
import { parseApproximate } from '../../src/readings/parse-approximate.js';
import { parseDate } from '../../src/readings/parse-date.js';
import { parseNotMeasured } from '../../src/readings/parse-not-measured.js';
import { parseNumber } from '../../src/readings/parse-number.js';
import { parsePressure } from '../../src/readings/parse-pressure.js';
import { parseTime } from '../../src/readings/parse-time.js';
import { parseYesNo } from '../../src/readings/parse-yes-no.js';
import { convertPressure, type PressureUnit } from '../../src/readings/pressure-units.js';
import { recogniseShape } from '../../src/readings/recognise-shape.js';
import { reshapeChecklist } from '../../src/readings/reshape-checklist.js';
import { reshapeLongForm } from '../../src/readings/reshape-long-form.js';
import { unitKey } from '../../src/readings/unit-key.js';
import type { RawCell, RawRow } from '../../src/util/raw-table.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { anyText } from './any-table.js';

const RUNS = { numRuns: 400, seed: 20261110 };
const dictionary = fieldDictionary();
const anything = fc.oneof(anyText, fc.string({ unit: 'binary', maxLength: 120 }), fc.string({ unit: 'grapheme', maxLength: 30 }));
const UNITS: readonly PressureUnit[] = ['psi', 'kPa', 'bar'];

/** Plain texts of each kind, that every reader of the kind understands. */
const pressureText = fc.oneof(
  fc.integer({ min: 0, max: 250 }).map(String),
  fc.tuple(fc.integer({ min: 0, max: 250 }), fc.integer({ min: 1, max: 9 }), fc.constantFrom('.', ',')).map(([whole, tenth, mark]) => `${whole}${mark}${tenth}`),
  fc.tuple(fc.integer({ min: 60, max: 120 }), fc.integer({ min: 1, max: 8 })).map(([low, width]) => `${low}-${low + width}`),
  fc.tuple(fc.integer({ min: 60, max: 120 }), fc.integer({ min: 1, max: 8 })).map(([middle, half]) => `${middle}±${half}`),
  fc.tuple(fc.integer({ min: 0, max: 250 }), fc.constantFrom(...UNITS)).map(([value, unit]) => `${value} ${unit}`),
  fc.integer({ min: 0, max: 250 }).map((value) => `~${value}`),
);
const timeText = fc.oneof(
  fc.tuple(fc.integer({ min: 0, max: 14 }), fc.integer({ min: 0, max: 59 })).map(([minutes, seconds]) => `${minutes}:${String(seconds).padStart(2, '0')}`),
  fc.integer({ min: 1, max: 899 }).map((seconds) => `${seconds} s`),
  fc.tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 59 })).map(([minutes, seconds]) => `${minutes} min ${seconds} s`),
  fc.integer({ min: 15, max: 900 }).map(String),
);
const dateText = fc.tuple(fc.integer({ min: 2000, max: 2040 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 28 })).chain(([year, month, day]) => {
  const two = (part: number): string => String(part).padStart(2, '0');
  const name = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'][month - 1];
  return fc.constantFrom(`${year}-${two(month)}-${two(day)}`, `${day} ${name} ${year}`, `${day}/${month}/${year}`);
});

const readers: readonly (readonly [what: string, text: fc.Arbitrary<string>, read: (text: string) => unknown])[] = [
  ['pressure', pressureText, (text) => parsePressure(text, { unit: 'psi' })],
  ['time', timeText, (text) => parseTime(text, { shortest: 15, longest: 900 })],
  ['date', dateText, (text) => parseDate(text, { order: 'dmy', date1904: false })],
  ['number', fc.oneof(fc.nat().map(String), fc.constantFrom('12,345', '1 234', '~1500', '98020.5')), (text) => parseNumber(text, { commaGroups: true })],
  ['yes or no', fc.constantFrom('yes', 'No', 'Y', 'n', 'x', 'true', '1', '0'), (text) => parseYesNo(text)],
];

/** ASCII as full-width forms (Unicode, Halfwidth and Fullwidth Forms): U+0021 to U+007E stand at U+FF01 to U+FF5E. */
const fullWidth = (text: string): string => [...text].map((letter) => (letter > ' ' && letter <= '~' ? String.fromCodePoint(letter.codePointAt(0)! + 0xfee0) : letter)).join('');

describe('a cell says the same', () => {
  it.each(readers)('as a %s with spaces around it, in full-width characters, in another case, and with marks that cannot be seen', (_what, text, read) => {
    fc.assert(
      fc.property(text, fc.constantFrom(' ', '\t', '\u00a0', '\u2009', '\r\n'), (plain, space) => {
        const said = read(plain);
        expect(said).toMatchObject({ ok: true });
        for (const other of [`${space}${plain}${space}`, `\u200b${plain}\ufeff`, `\u202a${plain}\u202c`, plain.toUpperCase(), plain.toLowerCase(), plain.replaceAll(' ', '\u00a0')]) expect([other, read(other)]).toStrictEqual([other, said]);
        expect(read(fullWidth(plain))).toStrictEqual(said);
      }),
      RUNS,
    );
  });

  it('as a pressure in any unit: converting before or after makes no difference', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 25_000 }), fc.constantFrom(...UNITS), fc.constantFrom(...UNITS), (hundredths, written, asked) => {
        const result = parsePressure(`${hundredths / 100} ${written}`, { unit: asked });
        const there = parsePressure(hundredths / 100, { unit: written });
        if (!result?.ok || !there?.ok || result.value === null || there.value === null) throw new Error('it was not understood');
        expect(result.value.value).toBeCloseTo(convertPressure(there.value.value, written, asked), 9);
        expect(convertPressure(result.value.value, asked, written)).toBeCloseTo(hundredths / 100, 9);
      }),
      RUNS,
    );
  });

  it('as a time that is written out and read again', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 86_400_000 }), (milliseconds) => {
        expect(parseTime(formatTime(milliseconds / 1000), { shortest: 0, longest: 86_400 })).toMatchObject({ ok: true, value: milliseconds / 1000 });
      }),
      RUNS,
    );
  });
});

describe('any text at all', () => {
  it('is cleaned once: cleaning again changes nothing, and leaves one line without spaces at its ends', () => {
    fc.assert(
      fc.property(anything, (text) => {
        const clean = cleanCellText(text);
        expect(cleanCellText(clean)).toBe(clean);
        expect(clean).not.toMatch(/^\s|\s$|\s\s|[\r\n\t\u200b\u202e\ufeff]/u);
      }),
      RUNS,
    );
  });

  it('is a mark for not measured, or is none, in any case; and a mark is no number, pressure or time', () => {
    fc.assert(
      fc.property(fc.oneof(anything, fc.constantFrom('-', '--', '–', '—', 'n/a', 'N.A.', 'nt', 'Not Tested', 'na')), (text) => {
        const clean = cleanCellText(text);
        const mark = parseNotMeasured(clean);
        expect(parseNotMeasured(clean.toUpperCase()) === null).toBe(mark === null);
        if (mark === null) return;
        expect(mark).toStrictEqual({ ok: true, value: null, exact: false });
        for (const result of [parseNumber(clean), parsePressure(clean, { unit: 'psi' }), parseTime(clean, { shortest: 1, longest: 9 })]) expect(result).toStrictEqual(mark);
      }),
      RUNS,
    );
  });

  it('loses a mark of approximation and no more', () => {
    fc.assert(
      fc.property(anything, (text) => {
        const clean = cleanCellText(text);
        const { approximate, rest } = parseApproximate(clean);
        expect(approximate).toBe(rest !== clean);
        expect(clean).toContain(rest);
        if (!approximate && clean !== '') expect(parseApproximate(`about ${clean}`)).toStrictEqual({ approximate: true, rest: clean });
      }),
      RUNS,
    );
  });

  it('has a key as a unit that is its own key, whatever its case, spaces, hyphens and width', () => {
    fc.assert(
      fc.property(fc.oneof(anything, fc.tuple(fc.constantFrom('T', 'k', 'Ж', ''), fc.nat({ max: 999 })).map(([letter, number]) => `${letter}-${number}`)), (text) => {
        const key = unitKey(text);
        expect(unitKey(key)).toBe(key);
        expect(unitKey(` ${text} `)).toBe(key);
        if (/^[\x20-\x7e]*$/.test(text)) for (const other of [text.toUpperCase(), text.toLowerCase(), fullWidth(text), text.replaceAll('-', ' ')]) expect(unitKey(other)).toBe(key);
      }),
      RUNS,
    );
  });

  it('is a header, which folds once, and heads one column', () => {
    fc.assert(
      fc.property(fc.array(anything, { minLength: 1, maxLength: 8 }), (cells) => {
        for (const cell of cells) expect(foldHeader(foldHeader(cell))).toBe(foldHeader(cell));
        const { columns, repeated } = readHeader({ number: 1, cells }, dictionary);
        expect(columns).toHaveLength(cells.length);
        const held = columns.flatMap((column) => (column.role === 'field' ? [column.position] : []));
        expect(new Set(held).size).toBe(held.length);
        expect(repeated.every((index) => columns[index]!.role === 'extra')).toBe(true);
      }),
      RUNS,
    );
  });

  it('comes back when it is kept as found', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom('cut_in', 'cut_out', 'notes', 'released_time'), anything, { noNullPrototype: true }), (texts) => {
        const found = new Map(Object.entries(texts));
        expect([...parseAsFound(formatAsFound(found))]).toStrictEqual([...found]);
      }),
      RUNS,
    );
    fc.assert(fc.property(anything, (text) => void parseAsFound(text)), RUNS);
  });

  it('as a map file gives a map or a TreadlebookError; the map that is printed gives the same columns', () => {
    fc.assert(
      fc.property(fc.oneof(anything, fc.json(), fc.dictionary(anything, fc.oneof(anything, fc.constantFrom('unit', 'cut_in'), fc.constant(null))).map((columns) => JSON.stringify({ format: 'treadlebook-map', version: 1, columns }))), (text) => {
        try {
          expect(parseColumnMap(text, 'map.json', dictionary)).toBeInstanceOf(Map);
        } catch (error) {
          expect(error).toBeInstanceOf(TreadlebookError);
        }
      }),
      RUNS,
    );
    const headers = fc.uniqueArray(fc.oneof(anything, fc.constantFrom('Unit', 'Cut-in', 'P start', 'cut_out', 'Date')), { maxLength: 8, selector: cleanCellText });
    fc.assert(
      fc.property(headers, (cells) => {
        const { columns } = readHeader({ number: 1, cells }, dictionary);
        const again = readHeader({ number: 1, cells }, dictionary, parseColumnMap(columnMapText(columns, dictionary), 'map.json', dictionary));
        const fields = (header: typeof columns): unknown[] => describeColumns(header, dictionary).map(({ column, header: text, field }) => [column, text, field]);
        expect(fields(again.columns)).toStrictEqual(fields(columns));
      }),
      RUNS,
    );
  });
});

const LABELS = ['Unit', 'Unit #:', 'Date', 'Date of inspection:', 'Brakes released', 'Brakes applied', 'Primary start', 'Primary end', 'Secondary', 'P', 'S', 'Start', 'End', 'Minutes', 'Time', 'Test', 'Circuit', 'Static leak', 'Cut-in', 'Cut out', 'Low air light on at', 'Built up', 'Remarks', 'Inspector', 'psi', 'kPa', '(min)', '104', '102', '1:00', '2026-03-14', 'K-1', 'K-2', 'x', 'yes', 'n/a', '115/112', '1', '2'];
const shapedCell: fc.Arbitrary<RawCell> = fc.oneof({ weight: 8, arbitrary: fc.constantFrom(...LABELS) }, { weight: 2, arbitrary: fc.constant(null) }, anyText, fc.integer({ min: 0, max: 200 }), fc.boolean(), fc.record({ value: fc.double({ min: 0, max: 50_000, noNaN: true }), format: fc.constantFrom('h:mm', 'd/m/yyyy', 'General') }));
const shapedRows: fc.Arbitrary<RawRow[]> = fc.array(fc.array(shapedCell, { maxLength: 6 }), { maxLength: 14 }).map((rows) => rows.map((cells, index) => ({ number: index + 1, cells })));

describe('any rows of labels, values and anything else', () => {
  it('have a shape or none, and every shape that is told can be put together', () => {
    fc.assert(
      fc.property(shapedRows, (rows) => {
        expect(['table', 'long', 'checklist', 'transposed', null]).toContain(recogniseShape(rows, dictionary));
      }),
      RUNS,
    );
  });

  it.each(['checklist', 'transposed', 'long'] as const)('are put together as a %s: one width, and each cell in no more than one place', (shape) => {
    fc.assert(
      fc.property(shapedRows, (rows) => {
        const table = reshaped(shape, rows);
        if (table === null) return;
        for (const { cells } of table.rows) expect(cells.length).toBeLessThanOrEqual(table.header.length);
        expect(new Set(table.header).size).toBe(table.header.length);
        expect(table.header.slice(0, table.fieldCount).every((name) => dictionary.position.has(name))).toBe(true);
        const places = table.unplaced.map(({ row, column }) => `${row}:${column}`);
        expect(new Set(places).size).toBe(places.length);
        for (const { expected } of table.unplaced) expect(expected).toMatch(/^[^\r\n]+$/);
      }),
      RUNS,
    );
  });
});

/** The table that is made of rows; null where they name nothing that it could be made of, and that is said. */
function reshaped(shape: 'checklist' | 'transposed' | 'long', rows: readonly RawRow[]): ReshapedTable | null {
  try {
    return shape === 'long' ? reshapeLongForm(rows, dictionary, { date1904: false }) : reshapeChecklist(rows, dictionary, shape);
  } catch (error) {
    expect(error).toBeInstanceOf(TreadlebookError);
    expect((error as TreadlebookError).code).toBe('header_missing');
    return null;
  }
}
