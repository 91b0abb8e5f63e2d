import { basename } from 'node:path';
import { capsOf, type InputCaps } from '../formats/input-caps.js';
import type { XlsxBook, XlsxSheet } from '../formats/read-xlsx.js';
import { openXlsxInWorker } from '../formats/xlsx-worker/open-xlsx-in-worker.js';
import type { Evaluation } from '../fleet/evaluation.js';
import { FleetSummariser } from '../fleet/fleet-summariser.js';
import { plainEvaluation } from '../fleet/plain-evaluation.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import type { FleetSummary } from '../fleet/summary.js';
import { compileLimitSet, type LimitPlan } from '../limits/compile-limit-set.js';
import { shownIn } from '../limits/shown-pressure.js';
import type { LimitsGiven } from '../limits/limit-set-of.js';
import { limitSetIds } from '../limits/load-limit-set.js';
import { fieldDictionary, type Dictionary } from '../readings/dictionary.js';
import { optionalColumnsOf } from '../readings/optional-columns.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { readInspections, type InspectionReader } from '../readings/read-inspections.js';
import { quotedSheet } from '../formats/xlsx-package/sheet-reference.js';
import { columnLetters } from '../util/column-letters.js';
import { continuedSheet } from '../util/continued-sheets.js';
import { cutCellText } from '../util/cut-cell-text.js';
import { sha256 } from '../util/sha256.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { MOST_LIVE_INSPECTIONS } from './build-workbook.js';
import { AppearedNames } from './appeared-names.js';
import { continuedTable, sheetNamed, type ContinuedTable } from './continued-readings.js';
import { EntriesSha256 } from './entries-sha256.js';
import { planOf } from './plan-for.js';
import { chunksOf, collect } from './open-readings.js';
import { programVersion } from './program-version.js';
import { layOutReadings } from './readings-layout.js';
import type { EvaluatedRows, SheetContext } from './sheet-context.js';
import { EVERY_PART, sheetPurposes, type WorkbookParts } from './sheet-purposes.js';
import { BASELINE_SHEET } from './sheets/baseline-sheet.js';
import { CAB_CHECKLIST_SHEET, cabChecklistSheet } from './sheets/cab-checklist-sheet.js';
import { BORDERS_SHEET } from './sheets/borders-sheet.js';
import { LIMITS_SHEET, limitsSheet } from './sheets/limits-sheet.js';
import { PROBLEMS_SHEET } from './sheets/problems-sheet.js';
import { PROVENANCE_LABELS, PROVENANCE_SHEET, provenanceSheet } from './sheets/provenance-sheet.js';
import { READINGS_SHEET, readingsSheet } from './sheets/readings-sheet.js';
import { START_SHEET, startHereSheet } from './sheets/start-here-sheet.js';
import { verifyBaseline } from './verify-baseline.js';
import { verifyBorders } from './verify-borders.js';
import { STROKES_SHEET } from './strokes-layout.js';
import { STROKES_LABELS } from './strokes-provenance.js';
import { verifyCabChecklist, withNumbers } from './verify-cab-checklist.js';
import type { Verification } from './verify-finding.js';
import { HiddenParts } from './verify-hidden.js';
import { verifyLimits } from './verify-limits.js';
import { lineOf, type Line } from './verify-line.js';
import { BookNames, coveredRows, verifyColumnNames } from './verify-names.js';
import { ProvenanceLines, verifyProvenance } from './verify-provenance.js';
import { columnsOfBook, verifyReadings, type ReadingsSheet } from './verify-readings.js';
import { expectedSheet } from './verify-sheets.js';
import { verifyStartHere } from './verify-start-here.js';
import { verifyStrokes } from './verify-strokes.js';
import { VerifyTally } from './verify-tally.js';
import { SummarySheets } from './verify-summary-sheets.js';

/** How to verify a workbook. */
export interface VerifyOptions {
  /** The limit set; the one that the workbook names when left out. */
  readonly limits?: LimitsGiven;
  /** The name for messages; a path's own name when left out. */
  readonly name?: string;
  /** Bounds within which the workbook is read that are set otherwise; {@link INPUT_CAPS} lists them. */
  readonly caps?: InputCaps;
}

/**
 * Verifies an evaluated workbook: recomputes it from its entry cells and the numbers of its own sheet Limits, and names every
 * cell that is not as it should be. What a spreadsheet program writes otherwise without changing its meaning is no finding.
 *
 * @param input a path, or the bytes of the workbook
 * @throws TreadlebookError `input_missing`; `input_unreadable` for what is no workbook, or none of ours; `limit_set_unknown`
 * @example (await verifyWorkbook('fleet.xlsx')).findings // [] when nothing was changed
 */
export async function verifyWorkbook(input: string | Uint8Array, options: VerifyOptions = {}): Promise<Verification> {
  const name = options.name ?? (typeof input === 'string' ? basename(input) : 'the workbook');
  const caps = capsOf('xlsx', options.caps?.xlsx);
  const bytes = await collect(chunksOf(input), { name, cap: 'xlsx.fileBytes', most: caps.fileBytes });
  const book = await openXlsxInWorker(bytes, { ...caps, name });
  return new WorkbookVerifier(bytes, book, name).verify(options.limits).finally(() => book.close());
}

/** The measures for diagnosis that a workbook shows. A name that is none of them takes no part. */
function diagnosisShown(columns: InspectionReader['columns']): Set<string> {
  return new Set(columns.flatMap(({ role, header }) => (role === 'computed' && header.startsWith(COMPUTED_PREFIX) ? [header.slice(COMPUTED_PREFIX.length)] : [])));
}

class WorkbookVerifier {
  private readonly tally = new VerifyTally();
  private readonly hidden = new HiddenParts(this.tally);
  private readonly names: BookNames;
  /** The sheet Readings and those on which it goes on, as they were read last. */
  private readings: ContinuedTable | null = null;

  constructor(
    private readonly bytes: Uint8Array,
    private readonly book: XlsxBook,
    private readonly name: string,
  ) {
    this.names = new BookNames(book);
  }

  async verify(limits: LimitsGiven | undefined): Promise<Verification> {
    const lines = await this.linesOf(PROVENANCE_SHEET);
    const provenance = new ProvenanceLines(lines ?? []);
    const reader = await this.openReadings(provenance, limits);
    const set = limits === undefined ? this.planNamedBy(provenance) : planOf(limits);
    if (reader === null) {
      this.verifySheets(provenance);
      await this.verifyLeftAlone();
      return this.verification(set);
    }
    await this.compare(set, await this.readerWith(set.dictionary), provenance);
    await this.verifyLeftAlone();
    return this.verification(set);
  }

  /** The sheet Readings, if it is there and ours; null where only Provenance says that the workbook is ours. */
  private async openReadings(provenance: ProvenanceLines, limits: LimitsGiven | undefined): Promise<InspectionReader | null> {
    const ours = provenance.limitSetId !== null;
    const reader = this.sheet(READINGS_SHEET) ? await this.tryReader() : null;
    const computed = reader?.columns.some(({ role }) => role === 'computed') === true;
    if (!computed && !(ours && reader === null)) throw this.stranger();
    if (!ours && limits === undefined) {
      throw new TreadlebookError({ code: 'input_unreadable', where: this.name, what: `the sheet ${PROVENANCE_SHEET} does not name the limit set`, mend: 'name it with --limits' });
    }
    return reader;
  }

  private async tryReader(): Promise<InspectionReader | null> {
    try {
      return await this.readerWith(fieldDictionary());
    } catch (error) {
      if (error instanceof TreadlebookError && (error.code === 'header_missing' || error.code === 'input_empty')) throw this.stranger();
      throw error;
    }
  }

  private async readerWith(dictionary: Dictionary): Promise<InspectionReader> {
    this.readings = await continuedTable(this.book, this.sheet(READINGS_SHEET)!, { dictionary });
    return readInspections(this.readings.table, { dictionary, name: this.name });
  }

  private stranger(): TreadlebookError {
    return new TreadlebookError({ code: 'input_unreadable', where: this.name, what: 'this is no evaluated workbook: no sheet Readings with computed columns and no Provenance', mend: '`treadlebook evaluate` makes one' });
  }

  private planNamedBy({ limitSetId }: ProvenanceLines): LimitPlan {
    // A text from the workbook must not open a file, so that only sets that ship are looked up.
    if (limitSetId !== null && limitSetId.split(',').every((id) => limitSetIds().includes(id))) return planOf(limitSetId.split(','));
    throw new TreadlebookError({ code: 'limit_set_unknown', where: this.name, what: `the workbook was made with the limit set ${JSON.stringify((limitSetId ?? '').slice(0, 60))}, which does not ship with the program`, mend: 'name its file with --limits' });
  }

  private async compare(base: LimitPlan, reader: InspectionReader, provenance: ProvenanceLines): Promise<void> {
    const { tally, names } = this;
    const plan = compileLimitSet(base.set, { optionalColumns: optionalColumnsOf(reader.columns, base.dictionary), diagnosis: diagnosisShown(reader.columns) });
    const written = provenance.count(PROVENANCE_LABELS.inspections);
    const { parts, apart } = this.readings!;
    const stated = this.statedParts(provenance);
    const layout = layOutReadings({ plan, fileColumns: reader.columns, overflow: 0, rowCount: stated, rowsPerSheet: 1 });
    for (const sheet of apart) tally.add({ code: 'columns_changed', sheet, found: 'other columns than on Readings, or in another order', expected: 'the columns of Readings, which goes on here' });
    const { from, to } = provenance.period;
    const live = provenance.forEntry || (written <= MOST_LIVE_INSPECTIONS && stated === 1 && from === null && to === null);
    const context: Omit<SheetContext, 'book'> = { plan, layout, live, fleet: null, ...mostLinesOf(provenance) };
    const readings = expectedSheet(readingsSheet, context, 'template');
    const limits = expectedSheet(limitsSheet, context);

    const sameSet = [null, plan.sha256].includes(provenance.value(PROVENANCE_LABELS.limitSetSha256) as string | null);
    const numbers = await verifyLimits(this.book, names, plan, limits, await this.linesOf(LIMITS_SHEET), sameSet, tally);
    const paper = await this.linesOf(CAB_CHECKLIST_SHEET);
    if (paper) verifyCabChecklist(expectedSheet(cabChecklistSheet, { ...context, plan: withNumbers(plan, numbers) }), paper, tally);
    const at = columnsOfBook(reader, readings, layout);
    const sheets = parts.map(({ sheet, headerRow }, index): ReadingsSheet => {
      const title = continuedSheet(READINGS_SHEET, index + 1);
      const own = new Map([...readings.names].filter(([, reference]) => reference.startsWith(`${quotedSheet(title)}!`)));
      const covered = coveredRows(names, own.keys(), title);
      if (covered) verifyColumnNames(names, lettersOfNames(own, at), covered, title, tally);
      return { sheet, headerRow: index === 0 ? reader.headerRow : headerRow, covered };
    });
    names.verifyLocal([...readings.names.keys(), ...limits.names.keys()], tally);

    const summariser = new FleetSummariser(plan, provenance.forEntry ? { by: 'month' } : provenance.period);
    const entries = new EntriesSha256(plan.dictionary, reader.extraHeaders);
    const appeared = new AppearedNames(plan);
    const evaluations: Evaluation[] = [];
    /** In their places on Readings, rows without an inspection among them. */
    const places: Evaluation[] = [];
    let [inspections, counted] = [0, 0];
    await verifyReadings({
      sheets, reader, plan, layout, expected: readings, tally,
      evaluator: new RowEvaluator(plan, { numbers }),
      onRow: (sheet, row) => this.hidden.row(sheet, row),
      onInspection: (inspection, row) => {
        inspections += 1;
        entries.add(inspection);
        if (row === null) return;
        if (row.evaluated) counted += 1;
        const seen = provenance.forEntry ? withKindAsTyped(row.evaluation, plan) : row.evaluation;
        while (places.length < row.position) places.push(emptyRow(seen));
        places.push(seen);
        evaluations.push(seen);
        summariser.add(seen);
        appeared.add(seen);
      },
    });

    const fleet = this.fleetOf(provenance, reader, places, summariser.result());
    const shown = { ...context, plan: { ...plan, ...shownIn(plan.shownPressure, numbers) } };
    const [filled, empty] = [{ ...shown, fleet }, provenance.forEntry ? shown : null];
    const asWritten = entries.result() === provenance.value(PROVENANCE_LABELS.entriesSha256) && !tally.has('limit_changed', 'fact_changed');
    await new SummarySheets((name) => this.linesOf(name), names, tally).verify(filled, empty, appeared, asWritten || provenance.forEntry);
    const start = await this.linesOf(START_SHEET);
    const onPaper = { ...context, fleet: provenance.forEntry ? null : { ...fleet, evaluations } };
    if (start) verifyStartHere(expectedSheet(startHereSheet, onPaper).lines, start, asWritten || (provenance.forEntry && !tally.has('limit_changed', 'fact_changed')), tally);
    const borders = await this.linesOf(BORDERS_SHEET);
    const onBorders = { ...shown, plan: withNumbers(shown.plan, numbers) };
    if (borders) verifyBorders({ filled: { ...onBorders, fleet }, empty: provenance.forEntry ? onBorders : null, appeared: appeared.of('unit'), found: borders, asWritten: asWritten || provenance.forEntry, tally });
    const baseline = asWritten ? await this.linesOf(BASELINE_SHEET) : null;
    if (baseline) verifyBaseline(fleet.summary, baseline, tally);
    if (this.sheet(PROVENANCE_SHEET)) {
      const problemLines = (await this.linesOf(PROBLEMS_SHEET) ?? []).filter(({ number, values }) => number > 3 && (values[6] ?? null) !== null).length;
      const ownColumns = reader.extraHeaders.map((header) => header || '(no header)').join(', ') || 'none';
      verifyProvenance(provenance, expectedSheet(provenanceSheet, withStrokes(onPaper, provenance)), { plan, program: `Treadlebook ${programVersion()}`, inspections, counted, entriesSha256: entries.result(), problemLines, ownColumns: cutCellText(ownColumns) }, tally);
    }
    const strokes = this.sheet(STROKES_SHEET);
    if (strokes) await verifyStrokes({ sheet: strokes, names, provenance, context, tally });
    await this.verifyHidden();
    this.verifySheets(provenance);
  }

  /** What the builders of the summary sheets need. */
  private fleetOf(provenance: ProvenanceLines, reader: InspectionReader, evaluations: readonly Evaluation[], summary: FleetSummary): EvaluatedRows {
    const count = (label: keyof typeof PROVENANCE_LABELS): number => provenance.count(PROVENANCE_LABELS[label]);
    return {
      evaluations,
      notes: [],
      asOf: provenance.period.to,
      summary,
      columns: reader.columns,
      problems: Array.from({ length: count('problems') }, () => ({ code: 'not_understood' as const, sheet: '', row: null, column: '', cell: '', found: '', expected: '' })),
      source: { name: '', sheet: '', sha256: '', rows_read: count('rowsRead'), rows_blank: count('rowsBlank'), rows_set_aside: count('rowsSetAside'), inspections: count('inspections') },
    };
  }

  private verifySheets(provenance: ProvenanceLines): void {
    const furtherReadings = Array.from({ length: this.statedParts(provenance) - 1 }, (_, index) => continuedSheet(READINGS_SHEET, index + 2));
    for (const name of sheetPurposes({ ...partsOf(provenance), furtherReadings }).keys()) {
      const sheet = this.sheet(name);
      if (!sheet) this.tally.add({ code: 'sheet_missing', sheet: name, found: 'no such sheet', expected: `the sheet ${name}` });
      else if (sheet.state !== 'visible') this.tally.add({ code: 'hidden_sheet', sheet: name, found: sheet.state === 'veryHidden' ? 'hidden so that the program does not list it' : 'hidden', expected: 'a sheet that shows' });
    }
  }

  /** How many sheets of readings Provenance tells of; of those that are not there, the first is enough. */
  private statedParts(provenance: ProvenanceLines): number {
    const there = this.readings ? this.readings.parts.length + this.readings.apart.length : 1;
    return Math.min(Math.max(1, Math.floor(provenance.count(PROVENANCE_LABELS.sheetsOfReadings))), there + 1);
  }

  /** Sheets of readings were walked already, for their rows. */
  private async verifyHidden(): Promise<void> {
    const walked = (this.readings?.parts ?? []).map(({ sheet }) => sheet.name);
    for (const name of [...sheetPurposes({ ...EVERY_PART, furtherReadings: walked.slice(1) }).keys()]) {
      const sheet = this.sheet(name);
      if (!sheet) continue;
      const { rows, hiddenColumns } = sheet.stored();
      for await (const row of rows) {
        if (walked.includes(sheet.name)) break;
        this.hidden.row(name, row);
      }
      this.hidden.finish(name, hiddenColumns);
    }
  }

  private sheet(name: string): XlsxSheet | undefined {
    return sheetNamed(this.book, name);
  }

  private async linesOf(name: string): Promise<Line[] | null> {
    const sheet = this.sheet(name);
    if (!sheet) return null;
    const lines: Line[] = [];
    for await (const row of sheet.stored().rows) lines.push(lineOf(row));
    return lines;
  }

  /** Sheets that are none of ours are walked for what their formulas reach for. */
  private async verifyLeftAlone(): Promise<void> {
    const ours = [...sheetPurposes(EVERY_PART).keys()].map((name) => name.toLowerCase());
    for (const sheet of this.book.sheets.filter(({ name }) => !ours.includes(name.toLowerCase()))) {
      if (sheet.state !== 'visible') this.tally.add({ code: 'hidden_sheet', sheet: sheet.name, found: 'hidden', expected: 'a sheet that shows' });
      for await (const _row of sheet.table().rows) continue;
    }
    for (const { kind, sheet, cell, text } of this.book.findings) {
      if (kind === 'outside') this.tally.add({ code: 'left_alone', sheet, cell, found: text, expected: 'nothing of the kind' });
    }
  }

  private verification({ set: { id, title }, sha256: hash }: LimitPlan): Verification {
    const findings = this.tally.result();
    return {
      format: 'treadlebook-verification',
      version: 1,
      book: { name: this.name, sha256: sha256(this.bytes) },
      limit_set: { id, title, sha256: hash },
      cells_compared: this.tally.cellsCompared,
      formulas_compared: this.tally.formulasCompared,
      findings,
    };
  }
}

/** What the workbook holds beside what every one does, as its sheet Provenance tells. */
function partsOf(provenance: ProvenanceLines): WorkbookParts {
  return { baseline: provenance.hasBaseline, severalSets: provenance.limitSetId?.includes(',') === true, strokes: provenance.forEntry || provenance.line(STROKES_LABELS.input) !== null };
}

/** As many lines as the sheet Problems was given when it had no room for all. */
function mostLinesOf(provenance: ProvenanceLines): { readonly mostLines?: number } {
  const notListed = provenance.count(PROVENANCE_LABELS.problemsNotListed);
  return notListed > 0 ? { mostLines: provenance.count(PROVENANCE_LABELS.problems) - notListed + 1 } : {};
}

/** The context with room for the lines about strokes, where Provenance has them, so that the lines below stand as far apart. */
function withStrokes<C extends Omit<SheetContext, 'book'>>(context: C, provenance: ProvenanceLines): C {
  if (context.fleet === null || provenance.line(STROKES_LABELS.input) === null) return context;
  const source = { name: '', sheet: '', sha256: '', rows_read: 0, rows_blank: 0, rows_set_aside: 0, strokes: 0 };
  return { ...context, fleet: { ...context.fleet, strokes: { strokes: [], columns: [], evaluation: { chambers: [], vehicles: [], positions: [] }, source, leftOut: provenance.count(STROKES_LABELS.leftOut) } } };
}

/** A row of Readings without an inspection, in the place that it takes among the others. */
function emptyRow(other: Evaluation): Evaluation {
  return { ...plainEvaluation(other), inspection_id: null, inspected_on: null, unit: null, verdict: 'not tested', reason: '', measures: {}, checks: [], computed: other.computed.map(() => null) };
}

/** The summaries of a workbook for entry repeat a kind of vehicle as it was typed, understood or not. */
function withKindAsTyped(evaluation: Evaluation, { dictionary }: LimitPlan): Evaluation {
  const typed = evaluation.inspection.asFound.get('vehicle_kind');
  const position = dictionary.position.get('vehicle_kind')!;
  const { values } = evaluation.inspection;
  if (typed === undefined || (values[position] ?? null) !== null) return evaluation;
  return { ...plainEvaluation(evaluation), inspection: { ...evaluation.inspection, values: values.with(position, typed) } };
}

/** For each name of a column as it is written, the letters that the column has in the workbook. */
function lettersOfNames(names: ReadonlyMap<string, string>, columns: readonly (number | null)[]): Map<string, string | null> {
  const position = new Map(columns.map((_, at) => [columnLetters(at), at]));
  return new Map([...names].map(([name, reference]) => {
    const index = columns[position.get(/\$([A-Z]+)\$/.exec(reference)![1]!)!];
    return [name, index == null ? null : columnLetters(index)];
  }));
}
