import type { StoredFormula } from '../formats/read-xlsx.js';
import type { FleetSummary } from '../fleet/summary.js';
import { UnitsSummariser } from '../fleet/units-summariser.js';
import { serialToIsoDate } from '../readings/date-serial.js';
import { movedRows } from './normalise-formula.js';
import type { EvaluatedRows, SheetBuilder, SheetContext } from './sheet-context.js';
import { FAIL_RATES_SHEET, REASONS_TITLE_ROW } from './sheets/fail-rates-places.js';
import { failRatesSheet } from './sheets/fail-rates-sheet.js';
import { ONE_UNIT_SHEET, ONE_UNIT_TITLE_ROW, PICKED_CELL, UP_TO_CELL } from './sheets/one-unit-places.js';
import { oneUnitSheet, oneUnitSheetOf } from './sheets/one-unit-sheet.js';
import { OPEN_WORK_TITLE_ROW } from './sheets/open-work-columns.js';
import { OPEN_WORK_SHEET, openWorkSheet } from './sheets/open-work-sheet.js';
import { BLANK_MONTHS, LATER_INSPECTIONS, TREND_SHEET, TREND_TITLE_ROW, trendSheet } from './sheets/trend-sheet.js';
import { COUNTED_TO_CELL } from './sheets/unit-header.js';
import { UNITS_TITLE_ROW } from './sheets/unit-places.js';
import { UNITS_SHEET, unitsSheet } from './sheets/units-sheet.js';
import { verifyFailRates } from './verify-fail-rates.js';
import { failRatesForEntry } from './verify-fail-rates-for-entry.js';
import { linesForEntry, summaryForEntry } from './verify-for-entry.js';
import type { Line } from './verify-line.js';
import { verifyPlaceName, type BookNames } from './verify-names.js';
import { titlesMovedBy, verifyPlacedSheet } from './verify-placed-sheet.js';
import { expectedSheet } from './verify-sheets.js';
import type { CellContent, VerifyTally } from './verify-tally.js';
import { countedToOf, inOrderOfSheet, verifyUnits } from './verify-units.js';

/** A context without the workbook that sheets are laid out in. */
export type Context = Omit<SheetContext, 'book'>;
type FilledContext = Context & { readonly fleet: EvaluatedRows };

/** The names that stand in columns of Readings, in the order of their first mention. */
export interface AppearedNames {
  readonly of: (column: 'unit' | 'site' | 'inspector' | 'leak_place') => readonly string[];
}

/** The column of "Done by / date" on the sheet Open work, for the pen or the keyboard. */
const DONE_BY: ReadonlySet<number> = new Set(['L'.charCodeAt(0) - 'A'.charCodeAt(0)]);

interface SheetInPlace {
  readonly sheet: string;
  readonly titleRow: number;
  readonly expected: readonly Line[];
  readonly found: readonly Line[];
  readonly movedBy: number;
}

/** Compares the sheets that sum up the inspections by unit and by period. */
export class SummarySheets {
  constructor(
    private readonly linesOf: (name: string) => Promise<Line[] | null>,
    private readonly names: BookNames,
    private readonly tally: VerifyTally,
  ) {}

  /**
   * @param filled what the sheets are laid out from for the inspections of the workbook
   * @param empty the same without inspections, for a workbook that was written for entry; null otherwise
   * @param appeared in a workbook for entry, names in the order in which they first stand on Readings
   */
  async verify(filled: FilledContext, empty: Context | null, appeared: AppearedNames): Promise<void> {
    const units = await this.linesOf(UNITS_SHEET);
    const inOrder = empty ? this.forEntry(filled, appeared) : this.asSorted(filled, units);
    const lines = (build: SheetBuilder): readonly Line[] => {
      const written = expectedSheet(build, inOrder).lines;
      return empty ? linesForEntry(expectedSheet(build, empty).lines, written) : written;
    };
    const trend = (): readonly Line[] => (empty && filled.fleet.summary.trend.length > BLANK_MONTHS ? withLaterInspections(lines(trendSheet)) : lines(trendSheet));
    const sheets = await this.inPlace([
      [UNITS_SHEET, UNITS_TITLE_ROW, () => lines(unitsSheet)],
      [OPEN_WORK_SHEET, OPEN_WORK_TITLE_ROW, () => lines(openWorkSheet)],
      [TREND_SHEET, TREND_TITLE_ROW, trend],
      [FAIL_RATES_SHEET, REASONS_TITLE_ROW, () => (empty ? failRatesForEntry(expectedSheet(failRatesSheet, empty).lines, expectedSheet(failRatesSheet, inOrder).lines, inOrder.fleet.summary, (column) => appeared.of(column)) : lines(failRatesSheet))],
      [ONE_UNIT_SHEET, ONE_UNIT_TITLE_ROW, (found) => {
        const movedBy = titlesMovedBy(expectedSheet(oneUnitSheet, empty ?? inOrder).lines, found, ONE_UNIT_TITLE_ROW) ?? 0;
        return lines((context) => oneUnitSheetOf(context, pickedIn(found, movedBy)));
      }],
    ]);
    const { tally, names } = this;
    const onUnits = sheets.find(({ sheet }) => sheet === UNITS_SHEET);
    if (onUnits) {
      for (const [name, reference] of expectedSheet(unitsSheet, empty ?? inOrder).names) {
        verifyPlaceName(names, name, movedRows(reference, UNITS_SHEET, () => onUnits.movedBy), { sheet: UNITS_SHEET, cell: name === 'counted_to' ? COUNTED_TO_CELL : '' }, tally);
      }
    }
    for (const { sheet, titleRow, expected, found } of sheets) {
      if (sheet === UNITS_SHEET) verifyUnits(expected, found, { forEntry: empty !== null, live: filled.live }, tally);
      else if (sheet === FAIL_RATES_SHEET) verifyFailRates(expected, found, empty !== null, tally);
      else verifyPlacedSheet({ sheet, titleRow, expected, found, entries: sheet === OPEN_WORK_SHEET ? (row) => (row > titleRow ? DONE_BY : undefined) : undefined, tally });
    }
  }

  /** The sheets that are there. Rows may have been put in above their titles, and formulas of other sheets follow. */
  private async inPlace(sheets: readonly (readonly [sheet: string, titleRow: number, expected: (found: readonly Line[]) => readonly Line[]])[]): Promise<readonly SheetInPlace[]> {
    const there: SheetInPlace[] = [];
    for (const [sheet, titleRow, written] of sheets) {
      const found = await this.linesOf(sheet);
      if (!found) continue;
      const expected = written(found);
      there.push({ sheet, titleRow, found, expected, movedBy: titlesMovedBy(expected, found, titleRow) ?? 0 });
    }
    const moved = new Map(there.map(({ sheet, movedBy }) => [sheet, movedBy]));
    if ([...moved.values()].every((rows) => rows === 0)) return there;
    return there.map((one) => ({ ...one, expected: withRowsMoved(one.expected, one.sheet, (sheet) => moved.get(sheet) ?? 0) }));
  }

  /** The units of a workbook for entry stand in the order in which they were typed. */
  private forEntry(filled: FilledContext, names: AppearedNames): FilledContext {
    const place = new Map(names.of('unit').map((unit, index) => [unit.toLowerCase(), index]));
    const summary = summaryForEntry(filled.fleet.summary);
    const units = [...summary.units].sort((a, b) => place.get(a.unit.toLowerCase())! - place.get(b.unit.toLowerCase())!);
    return withSummary(filled, { ...summary, units });
  }

  /** The sheet may have been sorted, and another day typed that days are counted to. */
  private asSorted(filled: FilledContext, found: readonly Line[] | null): FilledContext {
    const { summary, evaluations } = filled.fleet;
    if (!found) return filled;
    const expected = expectedSheet(unitsSheet, filled).lines;
    const to = filled.live ? dayOf(countedToOf(expected, found)) : null;
    const counted = to === null || to === summary.counted_to ? summary : countedTo(to, summary, filled, evaluations);
    return withSummary(filled, { ...counted, units: inOrderOfSheet(counted.units, expected, found) });
  }
}

/** The last line of the sheet Trend of a workbook for entry, where there are more months than it has rows. */
function withLaterInspections(lines: readonly Line[]): Line[] {
  return lines.map((line) => (line.number === TREND_TITLE_ROW + BLANK_MONTHS + 1 ? { ...line, values: line.values.with(0, LATER_INSPECTIONS) } : line));
}

/** The lines with formulas for a workbook in which rows were put in above the titles of some sheets. */
function withRowsMoved(lines: readonly Line[], sheet: string, movedBy: (sheet: string) => number): Line[] {
  const known = new Map<StoredFormula, StoredFormula>();
  const moved = (formula: StoredFormula): StoredFormula => {
    const other = known.get(formula) ?? { ...formula, text: movedRows(formula.text, sheet, movedBy) };
    known.set(formula, other);
    return other;
  };
  return lines.map((line) => ({ ...line, formulas: line.formulas.map((formula) => formula && moved(formula)) }));
}

function withSummary(context: FilledContext, summary: FleetSummary): FilledContext {
  return { ...context, fleet: { ...context.fleet, summary } };
}

/** A summary with days open, overdue and repairs as of another day. */
function countedTo(to: string, summary: FleetSummary, { plan }: Context, evaluations: EvaluatedRows['evaluations']): FleetSummary {
  const summariser = new UnitsSummariser(plan);
  for (const evaluation of evaluations) if (evaluation.unit !== null) summariser.add(evaluation);
  const { units, open_work, open, overdue } = summariser.result({ from: summary.period.from, countedTo: to });
  const computedOnWriting = new Map(summary.units.map((unit) => [unit.unit, unit]));
  return {
    ...summary,
    units: units.map((unit) => ({ ...unit, trend_of: computedOnWriting.get(unit.unit)!.trend_of, trends: computedOnWriting.get(unit.unit)!.trends })),
    open_work,
    fleet: { ...summary.fleet, open, overdue },
  };
}

/** The unit and the day that are chosen on the sheet One unit. */
function pickedIn(found: readonly Line[], movedBy: number): { readonly unit: string | null; readonly upTo: string | null } {
  const at = (address: string): CellContent => found.find(({ number }) => number === Number(address.slice(1)) + movedBy)?.values[address.charCodeAt(0) - 'A'.charCodeAt(0)] ?? null;
  const unit = at(PICKED_CELL);
  return { unit: unit === null || unit === '' ? null : String(unit), upTo: dayOf(at(UP_TO_CELL)) };
}

function dayOf(content: CellContent): string | null {
  return typeof content === 'number' ? serialToIsoDate(Math.floor(content), false) : null;
}
