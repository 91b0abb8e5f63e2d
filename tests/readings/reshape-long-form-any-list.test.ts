import fc from 'fast-check';
import { describe, test } from 'vitest';
import { reshapeLongForm } from '../../src/readings/reshape-long-form.js';
import type { RawRow } from '../../src/util/raw-table.js';
import { dictionary, expectEveryCellOnce } from './reshape-support.js';

describe('reshapeLongForm, whatever the list', () => {
  test('no cell is lost and none is counted twice', () => {
    const blank = fc.constantFrom('', ' ', null);
    const row = fc.tuple(
      fc.oneof(fc.constantFrom('101', '102', 103), blank),
      fc.oneof(fc.constantFrom('2026-03-14', '14 Mar 2026', '15/3/2026'), blank),
      fc.oneof(fc.constantFrom('released', 'static', 'applied primary start', 'light', 'buzzer and light', 'cut-in', 'build-up 85-100', 'settle time', 'notes', 'wheel nuts', 'governor', 'reserve', 'odometer'), blank),
      fc.oneof(fc.constantFrom('P', 'sec', 'both', 'wet', 2, '-'), blank),
      fc.oneof(fc.constantFrom('105', 104, '7 bar', 'never', '104-106'), blank),
      fc.oneof(fc.constantFrom('105', 104, '7 bar', 'never', '104-106'), blank),
      fc.oneof(fc.constantFrom('1', 4.2, '1:00', '60 s'), blank),
      fc.oneof(fc.constantFrom('100', '1 min'), blank),
      fc.oneof(fc.constantFrom('psi', 'kPa', 's', 'furlong'), blank),
      fc.oneof(fc.constantFrom('North', 'South'), blank),
      fc.oneof(fc.constantFrom('a', 'b'), blank),
      fc.oneof(fc.constantFrom('stray'), blank),
    );
    const header = ['Unit', 'Date', 'Test', 'Circuit', 'Start kPa', 'End', 'Minutes', 'Value', 'Unit of pressure', 'Site', 'Gizmo', ''];
    fc.assert(
      fc.property(fc.array(row, { maxLength: 12 }), (body) => {
        const rows: RawRow[] = [{ number: 1, cells: header }, ...body.map((cells, index) => ({ number: index + 2, cells }))];
        expectEveryCellOnce(reshapeLongForm(rows, dictionary), rows, 1);
      }),
      { numRuns: 300 },
    );
  });
});
