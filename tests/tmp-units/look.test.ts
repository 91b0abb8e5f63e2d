import { writeFileSync } from 'node:fs';
import { it } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { bytesOf } from '../workbook/bytes-of.js';
it('looks', { timeout: 180000 }, async () => {
  const fleet = await evaluateReadings('samples/invented-fleet.csv', {});
  const book = await bytesOf(workbookOf(fleet));
  writeFileSync('/tmp/unitshelper/fleet.xlsx', book);
  writeFileSync('/tmp/unitshelper/blank.xlsx', await bytesOf(blankWorkbook({})));
  const { compared, differences } = await compareWithRecalculation(book, await bytesOf(workbookOf(fleet, { withoutResults: true })));
  console.log(compared, differences.length, JSON.stringify(differences.filter(({cell}) => /^(Units|Open)/.test(cell)).slice(0, 12), null, 1));
});
