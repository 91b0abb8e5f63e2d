import fc from 'fast-check';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import type { Field } from '../../src/readings/field.js';
import type { Entry, Inspection } from '../../src/readings/inspection.js';
import { fromPsi, type PressureUnit } from '../../src/readings/pressure-units.js';
import { readingsFields } from '../../src/sql/readings-columns.js';

/** Cells that hold something that no reader understands. */
const ODD = { choice: 'lorry', warning: 'soon' } as const;

const psi = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: 0, max: 130 }) },
  { weight: 3, arbitrary: fc.integer({ min: 0, max: 13_000 }).map((hundredths) => hundredths / 100) },
  { weight: 1, arbitrary: fc.constantFrom(0, 0.1, 250, 1e6, 1e15, 1.5e300, 104.1, 101.1, 1e-12) },
);
/** The ends of a loss test: most fall a little, some a lot, some rise. */
const near = (from: number, to: number): fc.Arbitrary<number> => fc.oneof({ weight: 12, arbitrary: fc.integer({ min: 10 * from, max: 10 * to }).map((tenths) => tenths / 10) }, { weight: 1, arbitrary: psi });
const high = { start: near(110, 114), end: near(106, 111) } as const;
const seconds = fc.oneof({ weight: 4, arbitrary: fc.constantFrom(60, 60, 60, 45, 90, 120, 180, 300, 900) }, { weight: 2, arbitrary: fc.integer({ min: 5, max: 1800 }) }, { weight: 1, arbitrary: fc.double({ min: 5, max: 600, noNaN: true }) });
const words = fc.constantFrom('Saltpan Depot', "O'Hara", 'a"b', 'back\\slash', '$' + '{HOME}', 'ÄÖ', '; DROP TABLE readings; --', 'x');

function entryOf(field: Field): fc.Arbitrary<Entry> {
  switch (field.kind) {
    case 'text':
      return words;
    case 'choice':
      return fc.oneof({ weight: 12, arbitrary: fc.constantFrom(...field.choices!) }, { weight: 1, arbitrary: fc.constant(ODD.choice) });
    case 'date':
      return fc.integer({ min: 0, max: 700 }).map((day) => new Date(Date.UTC(2025, 0, 1 + day)).toISOString().slice(0, 10));
    case 'count':
      return fc.constantFrom(1, 1, 1, 2, 3, 4, 5, 8);
    case 'quantity':
      return fc.oneof(fc.integer({ min: 1, max: 3000 }), fc.double({ min: 0.001, max: 3000, noNaN: true }));
    case 'time':
      return seconds;
    case 'yes_no':
      return fc.boolean();
    case 'pressure': {
      if (field.name === 'gauge_step') return fc.constantFrom(25, 10, 5, 2, 1, 0.5);
      if (field.name === 'readable_to') return fc.constantFrom(1, 2, 3, 0.25);
      if (field.name.endsWith('_half_width')) return fc.constantFrom(0.5, 1, 2);
      const end = /_(start|end)$/.exec(field.name)?.[1] as keyof typeof high | undefined;
      const value = end ? high[end] : field.never ? psi.map((value) => Math.min(value, 1e30)) : psi;
      return field.never ? fc.oneof({ weight: 8, arbitrary: value }, { weight: 1, arbitrary: fc.constantFrom('never', ODD.warning) }) : value;
    }
  }
}

function isOdd(entry: Entry): boolean {
  return entry === ODD.choice || entry === ODD.warning;
}

/** How often a cell is filled. */
function filled(field: Field): number {
  if (field.name.endsWith('_half_width')) return 0.15;
  return field.name === 'readable_to' ? 0.3 : field.kind === 'text' ? 0.7 : 0.85;
}

/** One row as a table holds it, odd cells and all, by name. */
export type TableRow = ReadonlyMap<string, Entry>;

/** Rows of a readings table of a plan, of every kind that a clean table can hold, and of some that it cannot. */
export function randomRows(plan: LimitPlan, count: number, seed: number): TableRow[] {
  const fields = readingsFields(plan);
  const unit = fc.constantFrom<(PressureUnit | null)[]>('psi', 'psi', null, 'kPa', 'bar');
  const row = fc.tuple(unit, ...fields.map((field) => fc.tuple(fc.integer({ min: 0, max: 9999 }).map((part) => part / 10_000), entryOf(field)))).map(([pressureUnit, ...cells]): TableRow => {
    const entries = (cells as [number, Entry][]).map(([chance, entry], index): [string, Entry] => {
      const field = fields[index]!;
      if (field.name === 'unit') return [field.name, `T-${Math.floor(chance * 7)}`];
      if (field.name === 'inspected_on') return [field.name, entry];
      if (field.name === 'pressure_unit') return [field.name, isOdd(entry) ? entry : pressureUnit];
      if (chance > filled(field)) return [field.name, null];
      return [field.name, field.kind === 'pressure' && typeof entry === 'number' ? fromPsi(entry, pressureUnit ?? 'psi') : entry];
    });
    return new Map(entries);
  });
  return fc.sample(fc.noBias(row), { numRuns: count, seed }).map((cells, index) => new Map([...cells, ['inspection_id', `I-${String(index).padStart(5, '0')}`]]));
}

/** What a reader of the table would make of a row: odd cells are not understood, and blank. */
export function inspectionOf(plan: LimitPlan, row: TableRow, number: number): Inspection {
  const { fields } = plan.dictionary;
  const notRead = fields.filter(({ name }) => isOdd(row.get(name) ?? null)).map(({ name }) => name);
  return {
    row: number,
    values: fields.map(({ name }) => (notRead.includes(name) ? null : (row.get(name) ?? null))),
    asFound: new Map(notRead.map((name) => [name, String(row.get(name))])),
    notRead,
    extra: [],
  };
}
