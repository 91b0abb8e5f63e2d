import type { StoredFormula, StoredRow, XlsxSheet } from '../formats/read-xlsx.js';
import { shiftFormula } from '../formats/xlsx-reader/shift-formula.js';
import type { Evaluation } from '../fleet/evaluation.js';
import { plainEvaluation } from '../fleet/plain-evaluation.js';
import type { RowEvaluator } from '../fleet/row-evaluator.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { secondsName } from '../limits/working-columns.js';
import type { Inspection } from '../readings/inspection.js';
import type { InspectionReader } from '../readings/read-inspections.js';
import { ROWS_OF_SHEET } from '../util/continued-sheets.js';
import { columnLetters } from '../util/column-letters.js';
import { computedCell } from './cell-values.js';
import { movedColumns, normaliseFormula } from './normalise-formula.js';
import type { ReadingsLayout } from './readings-layout.js';
import { READINGS_SHEET } from './sheets/readings-sheet.js';
import { entriesOfSheet } from './verify-entries.js';
import { foundFormula, lineOf, normalForm, type Line } from './verify-line.js';
import type { CoveredRows } from './verify-names.js';
import type { ExpectedSheet } from './verify-sheets.js';
import { sameContent, showContent, showFormula, type CellContent, type VerifyTally } from './verify-tally.js';

/** A computed column: what belongs in it, and where the workbook has it. */
interface ComputedPlace {
  readonly name: string;
  /** Position among the computed columns. */
  readonly position: number;
  /** 0-based column of the workbook. */
  readonly index: number;
  /** The formula of the first row of a workbook as it is written, with the columns of this one. */
  readonly text: string;
  readonly writtenForRow: number;
  readonly normal: string;
  /** The last formula that proved right, and how it reads in other rows. */
  right: { readonly formula: StoredFormula; shift: ((rows: number, columns: number) => string) | null } | null;
}

/** An inspection as the summaries of the sheet see it. */
export interface CountedRow {
  readonly evaluation: Evaluation;
  /** Position among the rows that the names cover, on all sheets together. */
  readonly position: number;
  /** False where there are no formulas and no values in their place. */
  readonly evaluated: boolean;
}

/** The sheet Readings, or one on which the readings go on. */
export interface ReadingsSheet {
  readonly sheet: XlsxSheet;
  readonly headerRow: number;
  /** Rows that its names cover; null when there are no such names. */
  readonly covered: CoveredRows | null;
}

/** What the sheet Readings, and those on which it goes on, are compared with. */
export interface ReadingsTask {
  readonly sheets: readonly ReadingsSheet[];
  readonly reader: InspectionReader;
  readonly plan: LimitPlan;
  readonly layout: ReadingsLayout;
  readonly expected: ExpectedSheet;
  readonly evaluator: RowEvaluator;
  readonly tally: VerifyTally;
  /** Called with every row, of whatever kind. */
  readonly onRow: (sheet: string, row: StoredRow) => void;
  /** Called with every inspection as imported, and as the sheet counts it; the latter is null in a row that no name covers. */
  readonly onInspection: (inspection: Inspection, counted: CountedRow | null) => void;
}

/** Where the workbook has each column of the layout, by its position in the layout; null for one that it lacks. */
export function columnsOfBook(reader: InspectionReader, expected: ExpectedSheet, layout: ReadingsLayout): (number | null)[] {
  const names = expected.lines[layout.nameRow - 1]!.values;
  const at = new Map<string, number>();
  for (const [index, { role, header }] of reader.columns.entries()) if (role !== 'extra' && !at.has(header)) at.set(header, index);
  return layout.columns.map((column, position) => (column.part === 'extra' ? null : (at.get(String(names[position])) ?? null)));
}

/** Walks the sheet Readings, and those on which it goes on, once and compares headings, formulas and stored values of every computed column. */
export async function verifyReadings(task: ReadingsTask): Promise<void> {
  await new ReadingsWalk(task).walk();
}

class ReadingsWalk {
  private readonly places: readonly ComputedPlace[];
  private readonly columns: readonly (number | null)[];
  private readonly secondsAt: ReadonlyMap<string, number>;

  constructor(private readonly task: ReadingsTask) {
    const { reader, layout, expected, tally } = task;
    this.columns = columnsOfBook(reader, expected, layout);
    const names = expected.lines[layout.nameRow - 1]!.values;
    for (const [position, column] of layout.columns.entries()) {
      if (column.part === 'extra' || this.columns[position] !== null) continue;
      tally.add({ code: 'column_missing', sheet: READINGS_SHEET, column: String(names[position]), found: 'no such column', expected: `a column ${String(names[position])}` });
    }
    this.places = this.computedPlaces();
    const byId = new Map(layout.columns.flatMap((column, position) => (column.part === 'computed' ? [[column.column.id, this.columns[position]] as const] : [])));
    this.secondsAt = new Map(task.plan.dictionary.fields.flatMap(({ name }) => {
      const index = byId.get(secondsName(name));
      return index == null ? [] : [[name, index] as const];
    }));
  }

  async walk(): Promise<void> {
    const { reader, sheets, onRow } = this.task;
    const inspections = reader.inspections[Symbol.asyncIterator]();
    let next = await inspections.next();
    let before = 0;
    for (const [index, on] of sheets.entries()) {
      for await (const row of on.sheet.stored().rows) {
        onRow(on.sheet.name, row);
        if (row.number <= on.headerRow) {
          this.headings(on, row);
          continue;
        }
        const number = index * ROWS_OF_SHEET + row.number;
        while (!next.done && next.value.row < number) next = await inspections.next();
        this.row(on, before, row, !next.done && next.value.row === number ? next.value : null);
      }
      if (on.covered) before += on.covered.last - on.covered.first + 1;
    }
    // What the reader does at its end, such as counting, is wanted as well.
    while (!next.done) next = await inspections.next();
  }

  private computedPlaces(): ComputedPlace[] {
    const { layout, expected } = this.task;
    const template = expected.lines[layout.firstRow - 1]!;
    const moved = new Map(layout.columns.flatMap((_, position) => {
      const index = this.columns[position];
      return index == null ? [] : [[columnLetters(position), columnLetters(index)] as const];
    }));
    const stays = [...moved].every(([from, to]) => from === to);
    return layout.columns.flatMap((column, position): ComputedPlace[] => {
      const index = this.columns[position];
      const formula = template.formulas[position];
      if (column.part !== 'computed' || index == null || !formula) return [];
      const text = stays ? formula.text : movedColumns(formula.text, (letters) => moved.get(letters) ?? letters);
      return [{ name: column.column.name, position: column.index, index, text, writtenForRow: layout.firstRow, normal: normaliseFormula(text, { row: layout.firstRow, column: index + 1 }), right: null }];
    });
  }

  /** Compares the words above the columns. Rows above the header may have been put in. */
  private headings({ sheet, headerRow }: ReadingsSheet, row: StoredRow): void {
    const { layout, expected, tally } = this.task;
    const line = expected.lines[row.number - headerRow + layout.nameRow - 1];
    if (!line) return;
    const { values } = lineOf(row);
    for (const [position, column] of layout.columns.entries()) {
      const index = this.columns[position];
      if (column.part !== 'computed' || index == null) continue;
      tally.cellsCompared += 1;
      const [found, right] = [values[index] ?? null, line.values[position] ?? null];
      if (!sameContent(found, right)) tally.add({ code: 'text_changed', sheet: sheet.name, cell: columnLetters(index) + row.number, column: column.column.name, found: showContent(found), expected: showContent(right) });
    }
  }

  private row({ sheet: { name: sheet }, covered }: ReadingsSheet, before: number, stored: StoredRow, inspection: Inspection | null): void {
    const { tally, evaluator, reader, plan, onInspection } = this.task;
    const line = lineOf(stored);
    const counted = covered !== null && line.number >= covered.first && line.number <= covered.last;
    const formulas = this.places.some(({ index }) => line.formulas[index]);
    const seen = inspection && entriesOfSheet(inspection, line.values, reader.columns, plan.dictionary, (field) => line.values[this.secondsAt.get(field) ?? -1] ?? null);
    const evaluation = seen && evaluator.evaluate(seen);
    if (inspection && covered !== null && !counted) tally.addToRun(0, line.number, '', { code: 'row_not_counted', sheet, found: 'an inspection here', expected: `inspections in rows ${covered.first} to ${covered.last}` });
    if (formulas) this.compareRow(sheet, line, evaluation);
    const typed = this.places.filter(({ index }) => (line.values[index] ?? null) !== null).length;
    const evaluated = formulas || typed > 0;
    if (inspection && evaluation) onInspection(inspection, counted ? { position: before + line.number - covered!.first, evaluation: evaluated ? evaluation : withoutVerdict(evaluation), evaluated } : null);
    if (inspection && !formulas) {
      tally.addToRun(0, line.number, '', { code: 'row_without_formulas', sheet, found: typed === 0 ? 'no formulas' : `${typed} typed values and no formulas`, expected: `${this.places.length} formulas` });
    }
  }

  private compareRow(sheet: string, line: Line, evaluation: Evaluation | null): void {
    const { tally } = this.task;
    for (const place of this.places) {
      const formula = line.formulas[place.index] ?? null;
      const found = line.values[place.index] ?? null;
      tally.formulasCompared += 1;
      if (formula === null) this.replaced(sheet, place, line.number, found);
      else if (this.isRight(place, formula, line.number)) {
        const right: CellContent = evaluation === null ? null : computedCell(evaluation.computed[place.position] ?? null);
        tally.compareStored(sheet, place.name, place.index, line.number, found, right);
      } else {
        tally.addToRun(place.index, line.number, normalForm(formula), { code: 'formula_changed', sheet, column: place.name, found: foundFormula(formula, line.number, place.index), expected: belongs(place, line.number) });
      }
    }
  }

  private replaced(sheet: string, place: ComputedPlace, row: number, found: CellContent): void {
    this.task.tally.addToRun(place.index, row, '', { code: 'formula_replaced', sheet, column: place.name, found: showContent(found), expected: belongs(place, row) });
  }

  /** Most formulas are the very text that proved right in the row above, so that they need not be taken apart. */
  private isRight(place: ComputedPlace, formula: StoredFormula, row: number): boolean {
    const { right } = place;
    const here = formula.row === row && formula.column === place.index + 1;
    if (right !== null) {
      if (right.formula === formula) return true;
      if (here) {
        right.shift ??= shiftFormula(right.formula.text);
        if (formula.text === right.shift(row - right.formula.row, formula.column - right.formula.column)) return true;
      }
    }
    if (normalForm(formula) !== place.normal) return false;
    place.right = { formula, shift: null };
    return true;
  }
}

/** An evaluation as the summaries of the sheet see a row without formulas: its entries count, and nothing is computed. */
function withoutVerdict(evaluation: Evaluation): Evaluation {
  return { ...plainEvaluation(evaluation), verdict: 'not tested', checks: [], measures: {}, computed: evaluation.computed.map(() => null) };
}

function belongs({ text, writtenForRow }: ComputedPlace, row: number): string {
  return showFormula({ text: shiftFormula(text)(row - writtenForRow, 0) });
}
