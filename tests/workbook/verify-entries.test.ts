import { describe, expect, it } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { readInspections } from '../../src/readings/read-inspections.js';
import { entriesOfSheet } from '../../src/workbook/verify-entries.js';

const dictionary = fieldDictionary();

/** What the sheet reads of one cell; `seconds` is what its column of seconds holds. */
async function read(field: string, cell: string | number | boolean | null, seconds: string | number | null = null): Promise<{ readonly entry: unknown; readonly notRead: boolean }> {
  const header = ['unit', 'computed.verdict', field];
  const cells = ['K-1', null, cell];
  const rows = async function* () {
    yield { number: 1, cells: header };
    yield { number: 2, cells };
  };
  const reader = await readInspections({ sheet: 'Readings', date1904: false, rows: rows() }, { dictionary, name: 'test' });
  for await (const inspection of reader.inspections) {
    const seen = entriesOfSheet(inspection, cells, reader.columns, dictionary, () => seconds);
    return { entry: seen.values[dictionary.position.get(field)!] ?? null, notRead: seen.notRead.includes(field) };
  }
  throw new Error('no inspection');
}

// What the formulas of a workbook make of such cells is proved against LibreOffice in verify-workbook.test.ts.
describe('a cell as the formulas of the sheet read it', () => {
  it.each([
    ['released_primary_start', 104, 104, false],
    ['released_primary_start', '104', null, true],
    ['released_primary_start', '104 psi', null, true],
    ['released_primary_start', 5000, 5000, false],
    ['released_primary_start', null, null, false],
    ['released_primary_start', true, null, false],
    ['light_on_at', 'Never', 'never', false],
    ['released_primary_end', 'never', null, true],
    ['vehicle_kind', 'Truck', 'Truck', false],
    ['vehicle_kind', 'lorry', null, true],
    ['pressure_unit', 'psig', null, true],
    ['audible_leak', 'YES', true, false],
    ['audible_leak', 'no', false, false],
    ['audible_leak', 'x', null, true],
    ['inspected_on', 46095, '2026-03-14', false],
    ['inspected_on', '2026-03-14', null, true],
    ['site', ' North ', ' North ', false],
  ] as const)('%s: %j gives %j', async (field, cell, entry, notRead) => {
    expect(await read(field, cell)).toStrictEqual({ entry, notRead });
  });

  it('takes a time in words only where the sheet has its seconds', async () => {
    expect(await read('released_time', '1 minute', '')).toStrictEqual({ entry: null, notRead: true });
    expect(await read('released_time', '1 minute', 60)).toStrictEqual({ entry: 60, notRead: false });
    expect(await read('released_time', '1:00', '')).toStrictEqual({ entry: 60, notRead: false });
  });
});
