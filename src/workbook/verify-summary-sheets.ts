import type { StoredFormula } from '../formats/read-xlsx.js';
import type { FleetSummary } from '../fleet/summary.js';
import { UnitsSummariser } from '../fleet/units-summariser.js';
import { fieldPosition } from '../readings/dictionary.js';
import type { AppearedNames } from './appeared-names.js';
import { movedRows } from './normalise-formula.js';
import type { EvaluatedRows, SheetBuilder, SheetContext } from './sheet-context.js';
import { FAIL_RATES_SHEET, REASONS_TITLE_ROW } from './sheets/fail-rates-places.js';
import { failRatesSheet } from './sheets/fail-rates-sheet.js';
import { ONE_UNIT_SHEET, ONE_UNIT_TITLE_ROW, PICKED_CELL, UP_TO_CELL } from './sheets/one-unit-places.js';
import { oneUnitSheetOf } from './sheets/one-unit-sheet.js';
import { OPEN_WORK_TITLE_ROW } from './sheets/open-work-columns.js';
import { OPEN_WORK_SHEET, openWorkSheet } from './sheets/open-work-sheet.js';
import { BLANK_MONTHS, LATER_INSPECTIONS, TREND_SHEET, TREND_TITLE_ROW, trendSheet } from './sheets/trend-sheet.js';
import { COUNTED_TO_CELL } from './sheets/unit-header.js';
import { UNITS_TITLE_ROW } from './sheets/unit-places.js';
import { UNITS_SHEET, unitsSheet } from './sheets/units-sheet.js';
import { failRatesForEntry } from './verify-fail-rates-for-entry.js';
import { linesForEntry, summaryForEntry } from './verify-for-entry.js';
import type { Line } from './verify-line.js';
import { summaryAsListed } from './verify-lists.js';
import { verifyPlaceName, type BookNames } from './verify-names.js';
import { titlesMovedBy, verifyPlacedSheet } from './verify-placed-sheet.js';
import { expectedSheet, type ExpectedSheet } from './verify-sheets.js';
import type { CellContent, VerifyTally } from './verify-tally.js';
import { COUNTED_TO, countedToIn, dayOf, withValuesOfSheet } from './verify-units.js';

/** A context without the workbook that sheets are laid out in. */
export type Context = Omit<SheetContext, 'book'>;
/** The same with the inspections of a workbook. */
export type FilledContext = Context & { readonly fleet: EvaluatedRows };

/** The column of "Done by / date" on the sheet Open work, for the pen or the keyboard. */
const DONE_BY: ReadonlySet<number> = new Set(['M'.charCodeAt(0) - 'A'.charCodeAt(0)]);

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
   * @param asWritten whether entries and limits are those with which the workbook was written
   */
  async verify(filled: FilledContext, empty: Context | null, appeared: Pick<AppearedNames, 'of'>, asWritten: boolean): Promise<void> {
    const inOrder = empty ? this.forEntry(filled, appeared) : await this.asListed(filled, asWritten);
    const known = new Map<SheetBuilder, ExpectedSheet>();
    const written = (build: SheetBuilder): ExpectedSheet => {
      const sheet = known.get(build) ?? expectedSheet(build, empty ?? inOrder);
      known.set(build, sheet);
      return sheet;
    };
    const lines = (build: SheetBuilder): readonly Line[] => (empty ? linesForEntry(written(build).lines, expectedSheet(build, inOrder).lines) : written(build).lines);
    const sheets = await this.inPlace([
      [UNITS_SHEET, UNITS_TITLE_ROW, () => lines(unitsSheet)],
      [OPEN_WORK_SHEET, OPEN_WORK_TITLE_ROW, (found) => (empty || asWritten ? lines(openWorkSheet) : withAsManyRows(lines(openWorkSheet), found))],
      [TREND_SHEET, TREND_TITLE_ROW, () => (empty ? trendForEntry(empty, inOrder, filled.fleet.summary.trend.length) : lines(trendSheet))],
      [FAIL_RATES_SHEET, REASONS_TITLE_ROW, () => (empty ? failRatesForEntry(written(failRatesSheet).lines, expectedSheet(failRatesSheet, inOrder).lines, inOrder.fleet.summary, (column) => appeared.of(column)) : lines(failRatesSheet))],
      [ONE_UNIT_SHEET, ONE_UNIT_TITLE_ROW, (found) => {
        // Its titles are the same whatever is picked, and most workbooks have no row put in above them.
        const picked = (movedBy: number): readonly Line[] => lines((context) => oneUnitSheetOf(context, pickedIn(found, movedBy)));
        const inPlace = picked(0);
        const movedBy = titlesMovedBy(inPlace, found, ONE_UNIT_TITLE_ROW) ?? 0;
        return movedBy === 0 ? inPlace : picked(movedBy);
      }],
    ]);
    const { tally, names } = this;
    const onUnits = sheets.find(({ sheet }) => sheet === UNITS_SHEET);
    if (onUnits) {
      for (const [name, reference] of written(unitsSheet).names) {
        verifyPlaceName(names, name, movedRows(reference, UNITS_SHEET, () => onUnits.movedBy), { sheet: UNITS_SHEET, cell: name === 'counted_to' ? COUNTED_TO_CELL : '' }, tally);
      }
    }
    // Without Units, the formulas of Open work point at nothing.
    const there = onUnits ? sheets : sheets.filter(({ sheet }) => sheet !== OPEN_WORK_SHEET);
    const isBroken = (sheet: string): boolean => tally.hasLineFindings(sheet) || (sheet === OPEN_WORK_SHEET && tally.hasLineFindings(UNITS_SHEET));
    for (const { sheet, titleRow, expected, found } of there) verifyPlacedSheet({ sheet, titleRow, expected, found, asWritten, results: !isBroken(sheet), isTitles: sheet === FAIL_RATES_SHEET ? isRateTitles : undefined, entries: entriesOf(sheet, titleRow, filled.live, empty === null), tally });
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
  private forEntry(filled: FilledContext, names: Pick<AppearedNames, 'of'>): FilledContext {
    const place = new Map(names.of('unit').map((unit, index) => [unit.toLowerCase(), index]));
    const summary = summaryForEntry(filled.fleet.summary);
    const units = [...summary.units].sort((a, b) => place.get(a.unit.toLowerCase())! - place.get(b.unit.toLowerCase())!);
    return withSummary(filled, { ...summary, units: units.map((unit) => ({ ...unit, vehicle_kind: kindOf(unit.vehicle_kind, filled) })) });
  }

  /** Lists may have been sorted, another day typed that days are counted to, and entries changed since the workbook was written. */
  private async asListed(filled: FilledContext, asWritten: boolean): Promise<FilledContext> {
    const found = new Map<string, { readonly found: readonly Line[]; readonly expected: readonly Line[] }>();
    for (const [sheet, build] of LISTS) {
      const lines = await this.linesOf(sheet);
      if (lines) found.set(sheet, { found: lines, expected: expectedSheet(build, filled).lines });
    }
    const { summary, evaluations } = filled.fleet;
    const units = found.get(UNITS_SHEET);
    const to = units && filled.live ? countedToIn(units.expected, units.found) : null;
    const counted = to === null || to === summary.counted_to ? summary : countedTo(to, summary, filled, evaluations);
    const trends = units && !asWritten ? { ...counted, units: withValuesOfSheet(counted.units, filled.plan, units.expected, units.found) } : counted;
    return withSummary(filled, summaryAsListed(trends, (sheet) => found.get(sheet) ?? null, { asWritten, tally: this.tally }));
  }
}

/** The kind of vehicle in our spelling; the formula knows no other. */
function kindOf(typed: string | null, { plan: { dictionary } }: Context): string | null {
  const { choices = [] } = dictionary.fields[fieldPosition(dictionary, 'vehicle_kind')]!;
  return choices.find((choice) => choice.toLowerCase() === typed?.toLowerCase()) ?? null;
}

const LISTS: readonly (readonly [string, SheetBuilder])[] = [
  [UNITS_SHEET, unitsSheet],
  [TREND_SHEET, trendSheet],
  [FAIL_RATES_SHEET, failRatesSheet],
];
/** The titles of the tables of rates and of reasons. */
const isRateTitles = ({ values }: Line): boolean => values[1] === 'Tested' || values[1] === 'Failures';
const NAME: ReadonlySet<number> = new Set([0]);

/** The cells that are not compared in their place: those for people to fill in, and names, which are looked for wherever they stand. */
function entriesOf(sheet: string, titleRow: number, live: boolean, isListed: boolean): (row: number) => ReadonlySet<number> | undefined {
  return (row) => {
    if (sheet === UNITS_SHEET && row === COUNTED_TO.row && live) return new Set([COUNTED_TO.column]);
    if (sheet === OPEN_WORK_SHEET && row > titleRow) return DONE_BY;
    return isListed && sheet === UNITS_SHEET && row > titleRow ? NAME : undefined;
  };
}

/** The lines of a list with as many rows as it had when it was written, for it does not grow by itself. */
function withAsManyRows(expected: readonly Line[], found: readonly Line[]): readonly Line[] {
  const moved = titlesMovedBy(expected, found, OPEN_WORK_TITLE_ROW) ?? 0;
  const rows = found.filter(({ number, formulas }) => number > OPEN_WORK_TITLE_ROW + moved && formulas[0]).length;
  const above = expected.filter(({ number }) => number <= OPEN_WORK_TITLE_ROW);
  const list = expected.filter(({ number }) => number > OPEN_WORK_TITLE_ROW);
  const spare = list.at(-1)!;
  return [...above, ...Array.from({ length: rows }, (_, index) => list[index] ?? { ...spare, number: OPEN_WORK_TITLE_ROW + 1 + index, values: spare.values.map(() => null) })];
}

/** The sheet Trend of a workbook for entry: months from that of the first date on. */
function trendForEntry(empty: Context, filled: FilledContext, months: number): readonly Line[] {
  const written = expectedSheet(trendSheet, empty).lines;
  if (months === 0) return written;
  const lines = linesForEntry(written, expectedSheet(trendSheet, filled).lines);
  return months > BLANK_MONTHS ? withLaterInspections(lines) : lines;
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
    units: units.map((unit) => {
      const { trend_of, trends, buildup_explained } = computedOnWriting.get(unit.unit)!;
      return { ...unit, trend_of, trends, buildup_explained };
    }),
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
