import { describe, expect, it, type TestContext } from 'vitest';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet } from '../../src/limits/load-limit-set.js';
import { isoDateToSerial } from '../../src/readings/date-serial.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { blankWorkbook } from '../../src/workbook/write-workbook.js';
import { requireOutside } from '../support/recalculate.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';
import { typeIntoBlank } from './type-into-blank.js';
import { asCell, recordsOfSheet, rowsOfSheet, type PlainCell } from './sheet-tables.js';

const ROWS = 40;

type Typed = Readonly<Record<string, string | number>>;
const complete: Typed = {
  vehicle_kind: 'truck', pressure_unit: 'psi', gauge_step: 25, released_primary_start: 104, released_primary_end: 102, released_secondary_start: 104, released_secondary_end: 103, released_time: '1:00',
  applied_primary_start: 100, applied_primary_end: 97, applied_settle_time: '1:30', applied_time: '1:00', light_on_at: 70, buzzer_on_at: 68, buildup_from: 60, buildup_to: 122, buildup_time: '4:10', cut_in: 100, cut_out: 122, audible_leak: 'no',
};
const row = (inspected_on: string, unit: string, site: string, inspector: string, more: Typed = {}): Typed => ({ inspected_on, unit, site, inspector, ...complete, ...more });

/** What is typed, by row of the sheet; rows 9 and 14 stay blank. */
const TYPED: ReadonlyMap<number, Typed> = new Map<number, Typed>([
  [4, row('2026-03-02', 'K-1', 'Quay', 'A')],
  [5, row('2026-03-03', 'K-2', 'Quay', 'B', { released_primary_end: 98, released_time: '60 s' })],
  [6, row('2026-03-04', 'k-1', 'Mill', 'A', { pressure_unit: 'kPa', released_primary_start: 720, released_primary_end: 705, released_secondary_start: 715, released_secondary_end: 710, applied_primary_start: 690, applied_primary_end: 650, light_on_at: 495, buzzer_on_at: 480, buildup_from: 415, buildup_to: 870, cut_in: 700, cut_out: 870, gauge_step: 5 })],
  [7, row('2026-03-05', '0042', 'Mill', 'B', { pressure_unit: 'bar', gauge_step: 0.1, released_primary_start: 7.2, released_primary_end: 7.1, released_secondary_start: 7.2, released_secondary_end: 7.2, released_time: 60, applied_primary_start: 6.9, applied_primary_end: 6.8, light_on_at: 4.9, buzzer_on_at: 'never', buildup_from: 4.1, buildup_to: 8.6, buildup_time: '3:22', cut_in: 7, cut_out: 8.6, vehicle_kind: 'bus' })],
  [8, row('2026-03-06', 'T-9', 'Depot', 'C', { released_primary_start: '104 x', released_time: 'soon', vehicle_kind: 'lorry', audible_leak: 'perhaps', buildup_time: '1: 30', gauge_step: 'coarse' })],
  [10, row('2026-03-07', 'T-9', 'Depot', 'C', { released_primary_end: 106, applied_time: '0:45' })],
  [11, { inspected_on: '2026-03-08', unit: 'K-3' }],
  [12, row('2026-03-09', 'K-2', 'Quay', 'B', { pressure_unit: 'furlong' })],
  [13, row('2026-03-09', 'K-2', 'Quay', 'B', { buildup_time: '5:01', applied_primary_end: 95 })],
  [15, row('yesterday', 'K-4', 'quay', 'b', { light_on_at: 720, released_primary_start: 720 })],
  [16, { notes: 'no unit and no date' }],
  [17, row('2026-03-12', '=K-5', '+Mill', '@D', { notes: '=SUM(A1)', released_time: '4.2 min', released_primary_end: 92 })],
  [18, row('2026-03-13', '042', 'M*', 'D?')],
]);

describe('a blank workbook into which rows are typed', { timeout: 180_000 }, () => {
  const limits = 'common-practice';
  let made: Promise<{ readonly typed: Uint8Array; readonly computed: Uint8Array }> | null = null;

  async function make(context: TestContext): Promise<{ readonly typed: Uint8Array; readonly computed: Uint8Array }> {
    const typed = await typeIntoBlank(context, limits, TYPED, ROWS);
    return { typed, computed: (await convertByLibreOffice(typed, 'typed.xlsx', 'xlsx')).get('typed.xlsx')! };
  }

  /** The workbook as typed, and as LibreOffice saved it after computing. */
  function books(context: TestContext): Promise<{ readonly typed: Uint8Array; readonly computed: Uint8Array }> {
    requireOutside(context, 'soffice');
    return (made ??= make(context));
  }

  it('shows the verdicts, reasons and every other computed value that evaluation gives', async (context) => {
    const { typed, computed } = await books(context);
    const plan = compileLimitSet(loadLimitSet(limits));
    const shown = await recordsOfSheet(computed, 'Readings', 3);
    for (const workbook of [typed, computed]) {
      const fleet = await evaluateReadings(workbook, { limits });
      expect(fleet.evaluations.map((evaluation) => evaluation.row)).toStrictEqual([...TYPED.keys()]);
      expect(fleet.evaluations.map((evaluation) => Object.fromEntries(plan.columns.map(({ name }) => [name, asCell(shown.get(evaluation.row)![name]!)])))).toStrictEqual(
        // A blank workbook has no columns for diagnosis.
        fleet.evaluations.map((evaluation) => Object.fromEntries(fleet.plan.columns.flatMap(({ name, band }, index) => (band === 'diagnosis' ? [] : [[name, asCell(evaluation.computed[index]!)]])))),
      );
    }
  });

  it('shows nothing in rows that were not typed', async (context) => {
    const { computed } = await books(context);
    const rows = await recordsOfSheet(computed, 'Readings', 3);
    const blank = [...rows].filter(([number]) => !TYPED.has(number) && number < 4 + ROWS);
    expect(blank.length).toBeGreaterThan(0);
    expect(blank.flatMap(([number, record]) => Object.entries(record).filter(([, value]) => value !== null).map(([name, value]) => `${number} ${name} ${String(value)}`))).toStrictEqual([]);
  });

  it('lists each unit once on Units, with what evaluation finds of it', async (context) => {
    const { typed, computed } = await books(context);
    const { summary } = await evaluateReadings(typed, { limits });
    const records = [...(await recordsOfSheet(computed, 'Units', 6)).values()].filter((record) => record['Unit'] !== null);
    const shown = records.map((record) => [record['Unit'], record['Kind'], record['Site'], record['Latest verdict'], record['Latest inspection'], record['Inspections'], record['Failed'], record['Worst share ever'], record['Latest released loss (psi/min)'], record['Worst released loss (psi/min)'], record['Latest applied loss (psi/min)'], record['Worst applied loss (psi/min)'], record['Worst share of a leak\'s limit now']].map((cell) => asCell(cell ?? null)));
    const expected = summary.units.map((unit) => [unit.unit, unit.vehicle_kind, unit.site, unit.latest_verdict, unit.latest_on === null ? null : isoDateToSerial(unit.latest_on), unit.inspections, unit.failed, unit.worst_share, unit.latest_released_loss, unit.worst_released_loss, unit.latest_applied_loss, unit.worst_applied_loss, unit.share_now].map(asCell));
    const byUnit = (a: readonly PlainCell[], b: readonly PlainCell[]): number => (String(a[0]) < String(b[0]) ? -1 : 1);
    expect(shown.sort(byUnit)).toStrictEqual(expected.sort(byUnit));
  });

  it('counts on Fail rates what evaluation counts', async (context) => {
    const { typed, computed } = await books(context);
    const { summary } = await evaluateReadings(typed, { limits, by: 'month' });
    const rows = [...(await rowsOfSheet(computed, 'Fail rates')).values()];
    const shown = rows.slice(rows.findIndex(([name]) => name === 'By check')).filter((cells) => cells[0] !== null && typeof cells[1] === 'number' && (cells[1] > 0 || Number(cells[3]) > 0)).map((cells) => cells.slice(0, 7).map((cell) => asCell(cell ?? null)));
    const expected = summary.fail_rates.filter(({ tested, recheck }) => tested > 0 || recheck > 0).map(({ name, tested, failed, recheck, rate, low, high }) => [name, tested, failed, recheck, rate, low, high].map(asCell));
    const byName = (a: readonly PlainCell[], b: readonly PlainCell[]): number => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);
    expect(shown.map((cells) => Array.from({ length: 7 }, (_, index) => cells[index] ?? null)).sort(byName)).toStrictEqual(expected.sort(byName));
  });
});

describe('a blank workbook without rows', () => {
  it('is refused as empty, in one line', async () => {
    const blank = await bytesOf(blankWorkbook({ rows: 3 }));
    await expect(evaluateReadings(blank, { name: 'blank.xlsx' })).rejects.toMatchObject({ code: 'input_empty', message: 'blank.xlsx: there is no inspection below the header; type or paste at least one row' });
  });
});
