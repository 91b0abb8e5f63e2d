import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseChamber, parseStrokeKind } from '../../src/strokes/parse-chamber.js';
import { parsePosition } from '../../src/strokes/parse-position.js';
import { parseStroke } from '../../src/strokes/parse-stroke.js';
import type { RawCell } from '../../src/util/raw-table.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { openStrokes } from '../../src/workbook/open-strokes.js';
import { anyText } from './any-table.js';

const RUNS = { numRuns: 1000, seed: 20261111 };
const PIECES = ['1', '2', '3', '4', '16', '24', '30', '44', 'L', 'R', 'LS', 'T', 'long', 'stroke', 'type', 'clamp', 'rotochamber', 'axle', 'left', 'right', 'front', 'rear', 'inner', 'outer', 'trailer', 'in', 'mm', 'cm', '"', "'", '½', '¾', '/', '-', ' ', '.', ',', '~', 'n/a', '(', ')', '#', '__proto__', 'constructor'];
const words = fc.oneof(anyText, fc.array(fc.constantFrom(...PIECES), { maxLength: 8 }).map((pieces) => pieces.join('')), fc.array(fc.constantFrom(...PIECES), { maxLength: 6 }).map((pieces) => pieces.join(' ')), fc.string({ unit: 'binary', maxLength: 60 }));
const anyCell: fc.Arbitrary<RawCell> = fc.oneof({ weight: 4, arbitrary: words }, fc.double(), fc.boolean(), fc.constant(null), fc.record({ value: fc.double({ noNaN: true }), format: fc.constantFrom('d/m/yyyy', 'h:mm', 'General', '# ?/?') }));

describe('any text at all', () => {
  it('is a chamber or none; what was understood of it is understood again', () => {
    fc.assert(
      fc.property(words, (text) => {
        const chamber = parseChamber(text);
        if (chamber === null) return;
        expect(chamber.kind === null || /^(?:standard|long|long 2-1\/2|long 3)$/.test(chamber.kind)).toBe(true);
        expect(chamber.size === null || /^(?:\d{1,2}|[A-G])$/.test(chamber.size)).toBe(true);
        expect(parseChamber(`  ${text}  `)).toStrictEqual(chamber);
        expect(parseChamber(text.toUpperCase())).toStrictEqual(chamber);
        const { type, size, kind } = chamber;
        expect(parseChamber([type, size, kind].filter((part) => part !== null).join(' '))).toStrictEqual(chamber);
      }),
      RUNS,
    );
  });

  it('is a kind of stroke or none; and each kind is itself', () => {
    fc.assert(
      fc.property(words, (text) => {
        const kind = parseStrokeKind(text);
        if (kind !== null) expect([parseStrokeKind(kind), parseStrokeKind(` ${text.toUpperCase()} `)]).toStrictEqual([kind, kind]);
      }),
      RUNS,
    );
  });

  it('is a position or none; and what is written of it is the same position', () => {
    fc.assert(
      fc.property(words, (text) => {
        const position = parsePosition(text);
        if (position === null) return;
        expect(parsePosition(position)).toBe(position);
        for (const other of [` ${text}\t`, text.toUpperCase(), text.toLowerCase()]) expect(parsePosition(other)).toBe(position);
      }),
      RUNS,
    );
  });
});

describe('any cell at all', () => {
  it('is a stroke of no less than nothing, blank, or named', () => {
    fc.assert(
      fc.property(anyCell, (cell) => {
        const result = parseStroke(cell);
        if (result === null) return;
        if (!result.ok) expect(`${result.expected} ${result.hint ?? ''}`).not.toMatch(/NaN|undefined|[\r\n]/);
        if (!result.ok || result.value === null) return;
        const { value, writtenUnit } = result.value;
        expect(Number.isFinite(value) && value >= 0 && !Object.is(value, -0)).toBe(true);
        expect(['in', 'mm', null]).toContain(writtenUnit);
        // The same number with its unit, as far as a tape is read, is the same stroke.
        if (value < 1000 && writtenUnit !== null && Number.isInteger(value * 64)) expect(parseStroke(`${value} ${writtenUnit}`)).toMatchObject({ ok: true, value: { value, writtenUnit } });
      }),
      RUNS,
    );
  });

  it('a fraction of a tape is its quotient, however it is written', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3 }), fc.constantFrom(2, 4, 8, 16, 32, 64), fc.nat({ max: 62 }), (whole, below, top) => {
        const above = 1 + (top % (below - 1));
        const value = whole + above / below;
        for (const text of [`${whole} ${above}/${below}`, `${whole}-${above}/${below}"`, `${whole} ${above} / ${below} in`, `${whole} and ${above}/${below}`]) expect(parseStroke(text)).toMatchObject({ ok: true, value: { value } });
        expect(parseStroke(String(value).slice(0, 8))).toMatchObject({ ok: true });
      }),
      RUNS,
    );
  });

  it('in a table gives chambers that are evaluated, or a TreadlebookError', async () => {
    const row = fc.tuple(words, words, words, words).map((cells) => cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(','));
    await fc.assert(
      fc.asyncProperty(fc.array(row, { maxLength: 5 }), fc.constantFrom('unit,position,chamber,stroke', 'Unit,Brake,Chamber type,Stroke (mm)', 'unit,position,chamber,stroke,unit'), async (rows, header) => {
        try {
          const { strokes, problems } = await openStrokes(Buffer.from([header, ...rows].join('\n')), { name: 'strokes.csv' });
          expect(strokes.evaluation.chambers.length).toBeGreaterThan(0);
          for (const { verdict } of strokes.evaluation.chambers) expect(verdict).toMatch(/^(?:pass|fail|recheck|not tested)$/);
          for (const { expected } of problems) expect(expected).not.toMatch(/NaN|undefined|[\r\n]/);
        } catch (error) {
          expect(error).toBeInstanceOf(TreadlebookError);
        }
      }),
      { numRuns: 60, seed: 20261112 },
    );
  });
});
