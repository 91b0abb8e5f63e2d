import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { entryText } from '../../src/readings/entry-text.js';
import type { Field } from '../../src/readings/field.js';
import type { Entry } from '../../src/readings/inspection.js';
import { plainValue, type RawCell } from '../../src/util/raw-table.js';
import { readRows } from '../support/read-rows.js';
import { anyText, cellOf } from './any-table.js';

const dictionary = fieldDictionary();
const fields = dictionary.fields.slice(0, dictionary.standardCount);
const CELL_CODES = ['not_understood', 'implausible', 'date_order_unknown'];

const PIECES = ['0', '1', '4', '9', '12', '60', '104', '108', '2026', '.', ',', ':', '-', '–', '±', '+', '/', '~', ' ', '\u00a0', "'", '"', 'psi', 'kPa', 'bar', 'MPa', 's', 'm', 'min', 'h', 'to', 'and', 'Mar', 'PM', 'T', 'Z', 'n/a', 'never', 'yes', 'e5', '²', '١', '(', '\\', '__proto__', 'approx.'];
const text = (field: Field): fc.Arbitrary<string> =>
  fc.oneof(anyText, fc.string({ unit: 'binary', maxLength: 200 }), fc.string({ unit: fc.constantFrom(...PIECES), maxLength: 8 }), cellOf(field).filter((cell) => typeof cell === 'string'), fc.double().map(String));
const otherCell: fc.Arbitrary<RawCell> = fc.oneof(
  fc.double(),
  fc.boolean(),
  fc.record({ value: fc.oneof(fc.double(), fc.double({ min: 0, max: 50_000, noNaN: true })), format: fc.oneof(fc.constantFrom('h:mm', '[h]:mm:ss', 'mm:ss.0', 'h:mm AM/PM', 'd/m/yyyy', 'd/m/yyyy h:mm', 'General'), fc.string()) }),
);

/** What stands in the field when it was understood. */
function isOfItsKind({ kind, choices }: Field, entry: Entry): boolean {
  switch (kind) {
    case 'text':
      return typeof entry === 'string';
    case 'choice':
      return choices!.includes(String(entry));
    case 'date':
      return typeof entry === 'string' && /^\d{4}-\d{2}-\d{2}$/.test(entry);
    case 'yes_no':
      return typeof entry === 'boolean';
    case 'pressure':
      return entry === 'never' || (Number.isFinite(entry) && Number(entry) >= 0);
    default:
      return Number.isFinite(entry) && Number(entry) >= 0;
  }
}

/** Reads one cell below a header, beside a unit and a date, and checks what must hold of any cell; gives what was kept of it. */
async function readCell(field: Field, header: string, cell: RawCell): Promise<string> {
  const beside = [['unit', 'T1'], ['inspected_on', '2026-03-14']].filter(([name]) => name !== field.name) as [string, string][];
  const { reader, inspections, fields: taken } = await readRows([[header, ...beside.map(([name]) => name)], [cell, ...beside.map(([, value]) => value)]]);
  expect(taken[0]).toBe(field.name);
  expect(inspections).toHaveLength(1);
  const [{ values, notRead, asFound }] = inspections as [(typeof inspections)[number]];
  const entry = values[dictionary.position.get(field.name)!]!;
  const named = reader.problems.filter(({ code }) => CELL_CODES.includes(code));
  for (const { cell: place, column, expected } of named) {
    expect([place, column]).toStrictEqual(['A2', field.name]);
    expect(expected).toMatch(/^[^\r\n]+$/);
    expect(expected).not.toMatch(/NaN|undefined/);
  }
  if (entry === null) {
    // Blank, a mark for not measured, or named once.
    expect(named).toHaveLength(notRead.length);
    expect(notRead).toStrictEqual(named.length === 0 ? [] : [field.name]);
  } else {
    expect(isOfItsKind(field, entry)).toBe(true);
    expect(notRead).toStrictEqual([]);
    // A value out of its plausible span is kept, and named once.
    expect(named.map(({ code }) => code)).toStrictEqual(named.length === 0 ? [] : ['implausible']);
  }
  return asFound.get(field.name) ?? entryText(field, entry);
}

describe('any cell is understood, blank, or named once, and kept as it was', () => {
  it.each(fields.map((field) => [field.name, field] as const))('%s: any text', async (name, field) => {
    await fc.assert(
      fc.asyncProperty(text(field), async (cell) => {
        const kept = await readCell(field, name, cell);
        expect(kept).toBe(cell.trim() === '' ? '' : cell);
      }),
      { numRuns: 150, seed: 20261103 },
    );
  });

  it.each(fields.map((field) => [field.name, field] as const))('%s: any number, date, time or truth value of a workbook', async (name, field) => {
    await fc.assert(
      fc.asyncProperty(otherCell, async (cell) => {
        const kept = await readCell(field, name, cell);
        expect(kept === '').toBe(plainValue(cell) === null);
      }),
      { numRuns: 60, seed: 20261104 },
    );
  });

  const withUnits = fields.flatMap((field) => (field.kind === 'pressure' ? ['psi', 'kPa', 'bar'] : field.kind === 'time' ? ['min', 's'] : []).map((unit) => [`${field.title} (${unit})`, unit, field] as const));
  it.each(withUnits)('%s: any text below a header that names its unit', async (header, unit, field) => {
    await fc.assert(
      fc.asyncProperty(text(field), async (cell) => {
        const kept = await readCell(field, header, cell);
        expect(cell.trim() === '' ? [''] : [cell, `${cell} ${unit}`]).toContain(kept);
      }),
      { numRuns: 60, seed: 20261105 },
    );
  });
});
