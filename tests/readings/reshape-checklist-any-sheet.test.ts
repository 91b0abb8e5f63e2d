import fc from 'fast-check';
import { describe, test } from 'vitest';
import { reshapeChecklist } from '../../src/readings/reshape-checklist.js';
import type { RawRow } from '../../src/util/raw-table.js';
import { dictionary, expectEveryCellOnce } from './reshape-support.js';

describe('reshapeChecklist, whatever the sheet', () => {
  const word = fc.constantFrom('Unit', 'Truck 12', 'Date:', 'Brakes applied', 'Primary start', 'Primary', 'Secondary', 'Start', 'Static primary end', 'Build-up 85-100', 'Time', 'Low air light and buzzer', 'Cut-in kPa', 'Notes', 'Inspection 2', 'Belt', 'A longer remark, with a stop.', 'Unit: 9', 'Item', 'Value', 'Odometer', 'Settle time');
  const value = fc.constantFrom<string | number | null>('101', 105, '104', 'kPa', 'psi', 'min', 'never', 'ok', 'Primary', 'Secondary', '2026-03-14', null, '', ' ', '720 kPa', 'km', 'Inspection 1');
  const row = fc.oneof(
    fc.constant([]),
    fc.tuple(word, value, value).map((cells) => cells),
    fc.tuple(fc.oneof(value, word), fc.oneof(word, value), value, fc.oneof(word, value)),
    fc.tuple(word),
  );

  test.each(['checklist', 'transposed'] as const)('no cell of a %s is lost and none is counted twice', (shape) => {
    fc.assert(
      fc.property(fc.array(row, { maxLength: 25 }), (body) => {
        const rows: RawRow[] = [{ number: 1, cells: ['Cut-out', '125'] }, ...body.map((cells, index) => ({ number: index + 2, cells }))];
        expectEveryCellOnce(reshapeChecklist(rows, dictionary, shape), rows, 0);
      }),
      { numRuns: 500 },
    );
  });
});
