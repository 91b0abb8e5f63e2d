import type { CellValue, Worksheet } from 'exceljs';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import { styleCell } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { SheetContext } from '../sheet-context.js';
import { unitRange, UNITS_SHEET, type UnitPlaces } from './unit-places.js';

/** A figure over the table of open failures. */
interface Figure {
  readonly title: string;
  readonly value: CellValue;
  readonly format: string;
  /** What the figure is, in words. */
  readonly words: string;
  /** The columns that it stands over, such as `A:C`. */
  readonly columns: string;
}

/** What stands for a figure that only the program can compute. */
const LATER = 'comes when the workbook is evaluated with the program';

/** Which days the figures cover, in words. */
export function periodWords({ fleet }: Pick<SheetContext, 'fleet'>): string {
  if (fleet === null) return 'all inspections on Readings';
  const { from } = fleet.summary.period;
  const to = fleet.summary.counted_to;
  if (to === null) return 'no inspection has a date';
  return from === null ? `all inspections up to ${to}` : `inspections from ${from} to ${to}`;
}

/** Writes the figures of the period: three rows of titles, numbers and words. */
export function writeFigures(sheet: Worksheet, row: number, context: SheetContext, places: UnitPlaces): void {
  for (const { title, value, format, words, columns } of figures(context, places)) {
    const [from, to] = columns.split(':') as [string, string];
    for (const [index, content] of [title, value, words].entries()) {
      sheet.mergeCells(`${from}${row + index}:${to}${row + index}`);
      const cell = sheet.getCell(`${from}${row + index}`);
      cell.value = content;
      styleCell(cell, index === 0 ? { ...PALETTE.header, bold: true, centre: true, line: true } : index === 1 ? { bold: true, size: 18, centre: true, line: true, format } : { size: 9, centre: true, wrap: true, line: true, ink: PALETTE.header.ink });
    }
  }
  sheet.getRow(row).height = 16;
  sheet.getRow(row + 1).height = 28;
  sheet.getRow(row + 2).height = 27;
}

function figures(context: SheetContext, places: UnitPlaces): Figure[] {
  const { fleet, live, plan } = context;
  const figures = fleet?.summary.fleet ?? null;
  const counted = (name: string, stored: number | undefined): CellValue => (live ? { formula: `COUNT(${sheetReference(UNITS_SHEET, unitRange(places, name))})`, result: stored ?? 0 } : (stored ?? null));
  const first = figures?.first_time;
  const closed = figures?.closed;
  const share = (part: number | null): string => `${Math.round((part ?? 0) * 100)} %`;
  return [
    { title: 'Open failures', columns: 'A:C', format: '0', value: counted('open_since', figures?.open), words: 'units with a failed check that has not passed since' },
    {
      title: 'Passed at the first test',
      columns: 'D:F',
      format: '0 %',
      value: first?.rate ?? null,
      words: first ? (first.rate === null ? 'no first test passed or failed' : `${first.passed} of ${first.tested} that were no retests; 95 % interval ${share(first.low)} to ${share(first.high)}`) : LATER,
    },
    { title: 'Failures closed', columns: 'G:H', format: '0', value: closed?.failures ?? null, words: closed ? 'by a test that passed' : LATER },
    {
      title: 'Days to close, median',
      columns: 'I:I',
      format: '0.#',
      value: closed?.days_median ?? null,
      words: closed ? (closed.days_p90 === null ? 'none closed' : `nine of ten within ${Math.round(closed.days_p90 * 10) / 10} days (90th percentile)`) : LATER,
    },
    {
      title: 'Overdue units',
      columns: 'J:M',
      format: '0',
      value: plan.interval === null ? null : counted('overdue_days', figures?.overdue),
      words: plan.interval === null ? 'the limit set names no interval' : `the next inspection was due ${plan.interval.every} ${plan.interval.unit} after the latest`,
    },
  ];
}
