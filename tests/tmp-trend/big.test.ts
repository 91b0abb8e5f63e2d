import { it } from 'vitest';
import { writeFileSync } from 'node:fs';
import { bookOf, fleetOf } from './harness.js';
import { trendSheet } from '../../src/workbook/sheets/trend-sheet.js';
import { TREND_COLUMNS } from '../../src/workbook/sheets/trend-columns.js';
it('writes', { timeout: 600000 }, async () => {
  const fleet = await fleetOf('/tmp/trend/big.csv', undefined, 'week');
  const units = TREND_COLUMNS.find((c) => c.id === 'units') as any;
  const inP = (at: any) => `(readings_inspected_on>=${at('from')})*(readings_inspected_on<${at('to')}+1)`;
  const ord = 'ROW(readings_unit)-MIN(ROW(readings_unit))+1';
  const f: Record<string, (at: any) => string> = {
    plain: (at) => `SUM(--(FREQUENCY(IF(${inP(at)}*(readings_unit<>""),MATCH(readings_unit,readings_unit,0),""),${ord})>0))`,
    nofreq: (at) => `SUM(IF(${inP(at)}*(readings_unit<>""),MATCH(readings_unit,readings_unit,0),0))`,
    onlyfreq: (at) => `SUM(--(FREQUENCY(IF(${inP(at)}*(readings_unit<>""),${ord},""),${ord})>0))`,
  };
  for (const c of TREND_COLUMNS) if (c.id !== 'units') (c as any).formula = null;
  for (const [name, formula] of Object.entries(f)) {
    units.formula = formula;
    writeFileSync(`/tmp/trend/u-${name}.xlsx`, await bookOf(fleet, [trendSheet], { withoutResults: true }));
  }
});
