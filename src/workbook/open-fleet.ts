import { compareFleets } from '../fleet/compare-fleets.js';
import type { Evaluation } from '../fleet/evaluation.js';
import { FleetSummariser } from '../fleet/fleet-summariser.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import type { FleetSummary } from '../fleet/summary.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { VERDICTS, type Verdict } from '../limits/verdict.js';
import type { ColumnRole } from '../readings/find-header.js';
import { askedPeriod, type AskedPeriod } from './asked-period.js';
import { evaluateBaseline, withDates, type EvaluatedBaseline } from './evaluate-baseline.js';
import { FleetResult } from './fleet-result.js';
import { joinTables, type JoinedTables, type OpenedTable } from './join-tables.js';
import { NewInspections } from './new-inspections.js';
import { openReadings, type OpenOptions } from './open-readings.js';
import { joinStrokes, openStrokes, strokesOfBook, type OpenedStrokes } from './open-strokes.js';
import { evaluatedCsv } from './evaluated-csv.js';
import type { EvaluateOptions, FleetOutcome, FleetTally, OpenedFleet, OpenFleetOptions } from './opened-fleet.js';
import { isCounted, PeriodCounter } from './period-counts.js';
import { planFor, planOf } from './plan-for.js';
import type { ReadingsInput } from './readings-input.js';
import { sheetNotRead } from './sheet-not-read.js';
import type { SourceInfo } from './source-info.js';
import { emptyInput } from './told-of-tables.js';

/**
 * Opens tables whose inspections are evaluated as they are taken: of a table of any length no more is held than its summary
 * needs, some 300 bytes of an inspection, and with `summarise: false` no more than tells repeats, some 100 bytes.
 *
 * @throws TreadlebookError as `evaluateReadings`
 * @example
 * const fleet = await openFleet('samples/invented-fleet.csv');
 * await writeFileAtomically('evaluated.csv', evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations), true);
 * console.log(fleet.outcome().counts.verdicts.fail);
 */
export async function openFleet(input: ReadingsInput | readonly ReadingsInput[], options: OpenFleetOptions = {}): Promise<OpenedFleet> {
  const period = askedPeriod(options);
  const base = planOf(options.limits);
  const before = options.baseline == null ? null : await evaluateBaseline(options.baseline, base, { name: options.baselineName, dateOrder: options.dateOrder, units: options.units, caps: options.caps });
  const shards = isList(input) && before === null ? await (await import('./shards/open-shards.js')).openShards(input, base, period, options) : null;
  if (shards !== null) return shards;
  const tables = await openTables(input, options, base);
  const joined = joinTables(tables);
  return new FleetInTables(tables, joined, planFor(base, joined.columns), period, before, options);
}

/** What is at work until the last inspection has been taken; then it is let go of, for it takes room. */
interface Work {
  readonly tables: readonly OpenedTable[];
  readonly joined: JoinedTables;
  /** Null where no figures are wanted. */
  readonly summariser: FleetSummariser | null;
  readonly fresh: NewInspections | null;
  readonly before: EvaluatedBaseline | null;
}

class FleetInTables implements OpenedFleet {
  readonly columns: readonly ColumnRole[];
  readonly evaluations: AsyncIterable<Evaluation>;
  private work: Work | null;
  private readonly all: PeriodCounter;
  /** Of the inspections that are counted, where there is a baseline. */
  private readonly counted: PeriodCounter;
  private readonly verdicts = Object.fromEntries(VERDICTS.map((verdict) => [verdict, 0])) as Record<Verdict, number>;
  private inspections = 0;
  private shared = 0;
  private readonly result = new FleetResult();

  constructor(
    tables: readonly OpenedTable[],
    joined: JoinedTables,
    readonly plan: LimitPlan,
    private readonly period: AskedPeriod,
    before: EvaluatedBaseline | null,
    private readonly options: OpenFleetOptions,
  ) {
    this.columns = joined.columns;
    this.work = { tables, joined, before, summariser: options.summarise === false ? null : new FleetSummariser(plan, period), fresh: options.appendTo == null ? null : new NewInspections(joined) };
    this.all = new PeriodCounter(period);
    this.counted = new PeriodCounter(period);
    this.evaluations = this.evaluate();
  }

  csv(delimiter: string): AsyncIterable<string> {
    return evaluatedCsv(this.plan, this.columns, this.evaluations, delimiter);
  }

  async drain(): Promise<void> {
    for await (const _ of this.evaluations) continue;
  }

  tally(): FleetTally {
    return this.result.tally();
  }

  outcome(): FleetOutcome {
    return this.result.outcome();
  }

  private async *evaluate(): AsyncGenerator<Evaluation> {
    try {
      const evaluator = new RowEvaluator(this.plan);
      for await (const inspection of this.work!.joined.inspections) {
        if (this.work!.fresh?.isNew(inspection) === false) continue;
        const evaluation = evaluator.evaluate(inspection);
        this.count(evaluation, this.work!);
        yield evaluation;
      }
      if (this.inspections === 0) throw emptyInput(this.work!.tables);
      this.finish(this.work!, await strokesFor(this.options, this.work!.tables));
    } finally {
      for (const table of this.work?.tables ?? []) table.close();
      this.work = null;
    }
  }

  private count(evaluation: Evaluation, { summariser, before }: Work): void {
    this.inspections += 1;
    this.verdicts[evaluation.verdict] += 1;
    this.all.add(evaluation);
    summariser?.add(evaluation);
    if (before !== null && isCounted(evaluation, this.period)) {
      this.counted.add(evaluation);
      if (before.seen.has(evaluation)) this.shared += 1;
    }
    if (this.inspections % 1000 === 0) this.options.onProgress?.(this.inspections);
  }

  private finish({ joined, fresh, summariser, before }: Work, strokes: OpenedStrokes): void {
    const { plan, columns, inspections, verdicts } = this;
    const passedOver = fresh?.passedOver ?? new Set<number>();
    const problems = joined.problems(passedOver).concat(strokes.problems);
    const source = joined.source(passedOver.size);
    const counts = { inspections, verdicts, period: this.all.result() };
    const tally = { plan, source, columns, counts, problems, strokes: strokes.strokes, notes: joined.notes(), ...(fresh ? { passedOver: passedOver.size } : {}) };
    const summary = summariser?.result() ?? null;
    this.result.set(tally, summary && { summary, asOf: this.period.to, ...this.besideBaseline(before, summary, source) });
  }

  private besideBaseline(before: EvaluatedBaseline | null, summary: FleetSummary, source: SourceInfo): Pick<FleetOutcome, 'baseline' | 'baselineInfo'> {
    if (before === null) return { baseline: null, baselineInfo: null };
    return { baseline: compareFleets({ summary: withDates(summary, this.counted.result()), source }, before.fleet), baselineInfo: { ...before.info, shared: this.shared } };
  }
}

/** Opens what is appended to, and then each input. */
async function openTables(input: ReadingsInput | readonly ReadingsInput[], options: EvaluateOptions, { dictionary }: LimitPlan): Promise<OpenedTable[]> {
  const inputs = isList(input) ? input : [input];
  const appendTo = options.appendTo ?? null;
  const isPart = inputs.length + (appendTo === null ? 0 : 1) > 1;
  const shared: OpenOptions = { ...options, dictionary, isPart, spellings: new Map() };
  const tables: OpenedTable[] = [];
  try {
    if (appendTo !== null) tables.push(await openReadings(appendTo, { ...shared, name: options.appendToName, format: undefined, sheet: undefined, map: undefined }));
    for (const one of inputs) tables.push(await openReadings(one, { ...shared, name: typeof one === 'string' && isPart ? undefined : options.name }));
  } catch (error) {
    for (const table of tables) table.close();
    throw error;
  }
  return tables;
}

function isList(input: ReadingsInput | readonly ReadingsInput[]): input is readonly ReadingsInput[] {
  return Array.isArray(input);
}

/** The strokes of the file that was named for them, else of the workbook that the readings stand in. */
async function strokesFor({ strokes, dateOrder, caps }: EvaluateOptions, tables: readonly OpenedTable[]): Promise<OpenedStrokes> {
  const ofBooks: OpenedStrokes[] = [];
  for (const { book, source } of tables) {
    const { name, sha256 } = source();
    if (book) ofBooks.push(await strokesOfBook(book, { name, dateOrder }, sha256));
  }
  const inBooks = joinStrokes(ofBooks);
  if (strokes === undefined) return inBooks;
  const opened = await openStrokes(strokes, { dateOrder, caps });
  if (!inBooks.strokes) return opened;
  const { sheet } = inBooks.strokes.source;
  return { ...opened, problems: [sheetNotRead(sheet, 'strokes', 'strokes in one place; those of the file named with --strokes were read'), ...opened.problems] };
}
