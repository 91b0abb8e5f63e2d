import { it } from 'vitest';
import { writeFileSync } from 'node:fs';
import { bookOf, fleetOf } from './harness.js';
import { trendSheet } from '../../src/workbook/sheets/trend-sheet.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
it('writes', { timeout: 600000 }, async () => {
  const fleet = await fleetOf('samples/invented-fleet.csv', undefined);
  const w = await bookOf(fleet, [trendSheet]);
  writeFileSync('/tmp/trend/trend.xlsx', w);
  const twin = await bookOf(fleet, [trendSheet], { withoutResults: true });
  const { compared, differences } = await compareWithRecalculation(w, twin);
  console.log(compared, differences.length, JSON.stringify(differences.slice(0, 10), null, 1));
  writeFileSync('/tmp/trend/blank.xlsx', await bookOf(null, [trendSheet], { rows: 50 }));
});
