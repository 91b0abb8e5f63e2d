import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shiftFormula } from '../../src/formats/xlsx-reader/shift-formula.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';
import { askedPeriod, isIsoDate } from '../../src/workbook/asked-period.js';
import { movedColumns, movedRows, normaliseFormula } from '../../src/workbook/normalise-formula.js';
import { runInside } from '../cli/run-inside.js';
import { inFolder } from '../cli/run-program.js';
import { anyText } from './any-table.js';

const RUNS = { numRuns: 1000, seed: 20261114 };
const anything = fc.oneof(anyText, fc.string({ unit: 'binary', maxLength: 60 }));

const reference = fc.tuple(fc.boolean(), fc.integer({ min: 1, max: 60 }), fc.boolean(), fc.integer({ min: 1, max: 200 })).map(([fixedColumn, column, fixedRow, row]) => `${fixedColumn ? '$' : ''}${columnLetters(column - 1)}${fixedRow ? '$' : ''}${row}`);
/** A formula of whole operands with signs between them. */
const { sound } = fc.letrec<{ sound: string; operand: string }>((tie) => ({
  operand: fc.oneof({ depthSize: 'small' }, reference, fc.constantFrom('1.5', '100', '"A1 b"', 'Limits!$E$5', 'cut_in', 'TRUE'), fc.tuple(fc.constantFrom('SUM', 'IF', 'ROUND'), fc.array(tie('sound'), { minLength: 1, maxLength: 3 })).map(([name, args]) => `${name}(${args.join(',')})`), tie('sound').map((inner) => `(${inner})`)),
  sound: fc.array(tie('operand'), { minLength: 1, maxLength: 3 }).chain((operands) => fc.constantFrom('+', '*', '&', '<=', '<>').map((sign) => operands.join(sign))),
}));

describe('a formula by its meaning', () => {
  it('is the same with spaces between its parts, in small letters, with TRUE() for TRUE, and with a sign of equality before it', () => {
    fc.assert(
      fc.property(sound, fc.integer({ min: 1, max: 200 }), fc.integer({ min: 1, max: 60 }), (formula, row, column) => {
        const normal = normaliseFormula(formula, { row, column });
        const texts = /"[^"]*"/g;
        const outsideTexts = (change: (part: string) => string): string => {
          const kept = formula.match(texts) ?? [];
          return formula.split(texts).map((part, index) => change(part) + (kept[index] ?? '')).join('');
        };
        expect(normaliseFormula(outsideTexts((part) => part.toLowerCase()), { row, column })).toBe(normal);
        expect(normaliseFormula(outsideTexts((part) => part.replace(/([+*&,]|<=|<>)/g, ' $1 ')), { row, column })).toBe(normal);
        expect(normaliseFormula(outsideTexts((part) => part.replace(/\bTRUE\b/g, 'TRUE()')), { row, column })).toBe(normal);
        expect(normaliseFormula(` =${formula} `, { row, column })).toBe(normal);
      }),
      RUNS,
    );
  });

  it('is the same in the cell to which it is filled down or across', () => {
    fc.assert(
      fc.property(sound, fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 50 }), (formula, rows, columns) => {
        expect(normaliseFormula(shiftFormula(formula)(rows, columns), { row: 10 + rows, column: 10 + columns })).toBe(normaliseFormula(formula, { row: 10, column: 10 }));
      }),
      RUNS,
    );
  });

  it('of any text at all has a meaning that is a text; moved by nothing the text stays as it is', () => {
    fc.assert(
      fc.property(fc.oneof(anything, fc.stringMatching(/^["'$A1!:()[\]{}=<>#, ]{0,40}$/)), (text) => {
        expect(typeof normaliseFormula(text, { row: 4, column: 4 })).toBe('string');
        expect(movedRows(text, 'Units', () => 0)).toBe(text);
        expect(movedColumns(text, (letters) => letters).toUpperCase()).toBe(text.toUpperCase());
      }),
      RUNS,
    );
  });
});

describe('any period', () => {
  const day = fc.oneof(fc.constantFrom('2026-01-01', '2026-02-28', '2026-02-29', '2024-02-29', '2026-13-01', '2026-1-1', '26-01-01', '2026-01-01 ', '', '0000-00-00', '9999-12-31', '2026-01-01T00:00:00Z', '２０２６-01-01'), anything, fc.constant(null), fc.constant(undefined));

  it('is taken with its ends in order, or refused by name', () => {
    fc.assert(
      fc.property(day, day, day, fc.oneof(fc.constantFrom('week', 'month', 'quarter', null, undefined), anything), (from, to, asOf, by) => {
        try {
          const period = askedPeriod({ from, to, asOf, by: by as never });
          for (const end of [period.from, period.to]) expect(end === null || /^\d{4}-\d{2}-\d{2}$/.test(end)).toBe(true);
          if (period.from !== null && period.to !== null) expect(period.from <= period.to).toBe(true);
          expect(period).toStrictEqual({ from: from ?? null, to: to ?? asOf ?? null, by: by ?? null });
        } catch (error) {
          expect(error).toBeInstanceOf(TreadlebookError);
          expect((error as TreadlebookError).code).toBe('usage');
        }
      }),
      RUNS,
    );
  });

  it('is a day exactly where the calendar has it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1000, max: 9999 }), fc.integer({ min: 0, max: 13 }), fc.integer({ min: 0, max: 32 }), (year, month, dayOfMonth) => {
        const text = `${year}-${String(month).padStart(2, '0')}-${String(dayOfMonth).padStart(2, '0')}`;
        // Date.UTC rolls a day over that the month has not; then the text differs.
        expect(isIsoDate(text)).toBe(new Date(Date.UTC(year, month - 1, dayOfMonth)).toISOString().startsWith(text));
      }),
      RUNS,
    );
  });
});

describe('any words on the command line', () => {
  const WORDS = ['evaluate', 'blank', 'compare', 'verify', 'report', 'limits', 'fields', 'hold', 'help', '--json', '--limits', 'us-nevada', '--from', '2026-03-01', '--to', '--by', 'week', '--sheet', '--map', '--date-order', 'dmy', '--units', 'folded', '--rows', '5', '--strict', '--force', '--quiet', '-q', '-h', '--help', '--version', '-V', '--', '--no-json', '--json=1', '--limits=', '-x', '', ' ', 'nothing.csv', '__proto__', '--__proto__', '--constructor=1', 'é', '\u001b[2J', '--gauge-step', '25', '--psi', '-1'];

  it('end in an exit code that is told, and an error is one line', { timeout: 120_000 }, async () => {
    await inFolder(async () => {
      await fc.assert(
        fc.asyncProperty(fc.array(fc.oneof({ weight: 9, arbitrary: fc.constantFrom(...WORDS) }, anyText.filter((word) => !/[/\\\0]/.test(word) && word !== '-' && !word.startsWith('-o'))), { maxLength: 6 }), async (words) => {
          const { code, err } = await runInside(words);
          expect([0, 1, 2, 3, 4]).toContain(code);
          if (code >= 2 && words.length > 0) expect(err).toMatch(/^(?:treadlebook: [^\p{Cc}]+\n|Usage[\s\S]*)$/u);
        }),
        { numRuns: 150, seed: 20261115 },
      );
    });
  });
});
