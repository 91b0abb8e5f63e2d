import type { Evaluation } from '../../fleet/evaluation.js';
import { FleetSummariser } from '../../fleet/fleet-summariser.js';
import { RowEvaluator } from '../../fleet/row-evaluator.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { VERDICTS, type Verdict } from '../../limits/verdict.js';
import type { ColumnRole } from '../../readings/find-header.js';
import { joinColumns } from '../../readings/join-columns.js';
import { SpillingQueue } from '../../util/spilling-queue.js';
import { TreadlebookError } from '../../util/treadlebook-error.js';
import type { AskedPeriod } from '../asked-period.js';
import { evaluatedHeader } from '../evaluated-csv.js';
import type { FleetOutcome, FleetTally, OpenedFleet, OpenFleetOptions } from '../opened-fleet.js';
import { emptyInput, notesOfTables, problemsOfTables, sourceOfTables, type ReadTable } from '../told-of-tables.js';
import { FleetResult } from '../fleet-result.js';
import { openStrokes, type OpenedStrokes } from '../open-strokes.js';
import { PeriodCounter } from '../period-counts.js';
import { planFor } from '../plan-for.js';
import type { FromShard, JudgedInspection, ShardFile, ShardOutcome, WantedOfRows } from './shard-messages.js';
import { ShardThread } from './shard-thread.js';

/** Characters of a file's lines that wait in memory for their turn. */
const MOST_WAITING = 1 << 24;

/** What came of one file so far. */
interface ShardState {
  readonly lines: SpillingQueue;
  readonly judged: JudgedInspection[][];
  outcome: ShardOutcome | null;
}

/** A fleet in several files, each of which is evaluated in one of several threads. It comes to the same as one that is evaluated in one go. */
export class FleetInShards implements OpenedFleet {
  readonly plan: LimitPlan;
  readonly columns: readonly ColumnRole[];
  readonly evaluations: AsyncIterable<Evaluation>;
  private readonly threads: ShardThread[] = [];
  private readonly columnsOf: (readonly ColumnRole[])[] = [];
  private readonly states: readonly ShardState[];
  private readonly reached = new Map<ShardThread, { readonly inspections: number; readonly bytes: number }>();
  private failure: Error | null = null;
  private wake: () => void = () => undefined;
  private readonly result = new FleetResult();

  /**
   * Starts the threads, and opens every file in them.
   *
   * @param shares the files of each thread
   * @param size bytes of all files
   * @throws TreadlebookError as `openReadings`, for the first file that cannot be opened
   */
  static async open(shares: readonly (readonly ShardFile[])[], size: number, base: LimitPlan, period: AskedPeriod, options: OpenFleetOptions): Promise<FleetInShards> {
    const { dateOrder, map, caps, units } = options;
    const count = shares.reduce((sum, files) => sum + files.length, 0);
    const columnsOf: (readonly ColumnRole[])[] = [];
    const refusals = new Map<number, Error>();
    // Whoever hears changes once all files are open.
    const ears: Pick<FleetInShards, 'hear' | 'fail'> = { hear: () => undefined, fail: () => undefined };
    const threads: ShardThread[] = [];
    const opening = new Promise<void>((resolve, reject) => {
      const left = new Map<ShardThread, number>();
      ears.fail = reject;
      ears.hear = (thread, message) => {
        if (message.kind === 'columns') columnsOf[message.index] = message.columns;
        if (message.kind === 'refused') refusals.set(message.index, errorOf(message.error));
        left.set(thread, message.kind === 'refused' ? 0 : left.get(thread)! - 1);
        if ([...left.values()].every((count) => count === 0)) resolve();
      };
      for (const files of shares) {
        const thread: ShardThread = new ShardThread({ files, set: base.set, open: { dateOrder, map, caps, units } }, (message) => ears.hear(thread, message), (error) => ears.fail(error));
        threads.push(thread);
        left.set(thread, files.length);
      }
    });
    try {
      await opening;
      const first = [...refusals.keys()].sort((a, b) => a - b)[0];
      if (first !== undefined) throw refusals.get(first)!;
    } catch (error) {
      for (const thread of threads) thread.end();
      throw error;
    }
    const fleet = new FleetInShards(threads, columnsOf, count, size, base, period, options);
    ears.hear = (thread, message) => fleet.hear(thread, message);
    ears.fail = (error) => fleet.fail(error);
    // A fleet that is opened and not taken keeps no process alive.
    for (const thread of threads) thread.setAwaited(false);
    return fleet;
  }

  private constructor(
    threads: readonly ShardThread[],
    columnsOf: readonly (readonly ColumnRole[])[],
    count: number,
    private readonly size: number,
    private readonly base: LimitPlan,
    private readonly period: AskedPeriod,
    private readonly options: OpenFleetOptions,
  ) {
    this.threads.push(...threads);
    this.columnsOf.push(...columnsOf);
    this.columns = joinColumns(columnsOf).columns;
    this.plan = planFor(base, this.columns);
    this.states = Array.from({ length: count }, () => ({ lines: new SpillingQueue(MOST_WAITING), judged: [], outcome: null }));
    this.evaluations = this.evaluate();
  }

  async *csv(delimiter: string): AsyncGenerator<string | Uint8Array> {
    try {
      this.start({ as: 'csv', delimiter });
      yield evaluatedHeader(this.plan, this.columns, delimiter);
      for (const { lines } of this.states) yield* lines.pieces();
      await this.finish();
    } finally {
      this.close();
    }
  }

  async drain(): Promise<void> {
    try {
      this.start({ as: 'nothing' });
      await this.finish();
    } finally {
      this.close();
    }
  }

  tally(): FleetTally {
    return this.result.tally();
  }

  outcome(): FleetOutcome {
    return this.result.outcome();
  }

  private async *evaluate(): AsyncGenerator<Evaluation> {
    try {
      this.start({ as: 'inspections' });
      const evaluator = new RowEvaluator(this.plan);
      let before = 0;
      for (const state of this.states) {
        while (state.outcome === null || state.judged.length > 0) {
          for (const [inspection, verdict] of state.judged.shift() ?? []) yield evaluator.judged({ ...inspection, row: before + inspection.row }, verdict);
          if (state.outcome === null && state.judged.length === 0) await this.news();
        }
        before += state.outcome.lastRow;
      }
      await this.finish();
    } finally {
      this.close();
    }
  }

  private start(wanted: WantedOfRows): void {
    const { from, to, by } = this.period;
    for (const thread of this.threads) {
      thread.setAwaited(true);
      thread.tell({ kind: 'evaluate', columns: this.columnsOf, wanted, period: { from, to, by }, summarise: this.options.summarise !== false });
    }
  }

  /** Takes what a thread says. */
  hear(thread: ShardThread, message: FromShard): void {
    switch (message.kind) {
      case 'csv':
        this.keepLines(message.index, message.text);
        return thread.tell({ kind: 'taken' });
      case 'inspections':
        this.states[message.index]!.judged.push([...message.inspections]);
        thread.tell({ kind: 'taken' });
        break;
      case 'progress':
        return this.tellProgress(thread, message);
      case 'end':
        this.states[message.index]!.outcome = message.outcome;
        this.states[message.index]!.lines.end();
        break;
      case 'refused':
        return this.fail(errorOf(message.error));
      case 'columns':
        return;
    }
    this.wake();
  }

  private keepLines(index: number, text: Uint8Array): void {
    try {
      this.states[index]!.lines.push(text);
    } catch (error) {
      this.fail(error instanceof Error ? error : new Error(String(error)));
    }
  }

  /** Takes the fault of a thread: whoever waits is told of it. */
  fail(error: Error): void {
    this.failure ??= error;
    for (const { lines } of this.states) lines.end(this.failure);
    this.wake();
  }

  /** Waits until a thread has said something; throws where one has failed. */
  private async news(): Promise<void> {
    if (this.failure === null) await new Promise<void>((resolve) => (this.wake = resolve));
    if (this.failure !== null) throw this.failure;
  }

  private tellProgress(thread: ShardThread, { inspections, bytes }: { readonly inspections: number; readonly bytes: number }): void {
    this.reached.set(thread, { inspections, bytes });
    const all = [...this.reached.values()];
    this.options.onRead?.(all.reduce((sum, one) => sum + one.bytes, 0), this.size);
    this.options.onProgress?.(all.reduce((sum, one) => sum + one.inspections, 0));
  }

  private async finish(): Promise<void> {
    while (this.states.some(({ outcome }) => outcome === null)) await this.news();
    const outcomes = this.states.map(({ outcome }) => outcome!);
    const tables = outcomes.map((outcome, index) => this.tableOf(outcome, index));
    const dates = new PeriodCounter(this.period);
    for (const { counts } of outcomes) dates.merge(counts.period);
    const sum = (count: (outcome: ShardOutcome) => number): number => outcomes.reduce((total, outcome) => total + count(outcome), 0);
    const inspections = sum(({ counts }) => counts.inspections);
    if (inspections === 0) throw emptyInput(tables);
    const verdicts = Object.fromEntries(VERDICTS.map((verdict) => [verdict, sum(({ counts }) => counts.verdicts[verdict])])) as Record<Verdict, number>;
    const { strokes, problems } = await this.strokes();
    const tally = {
      plan: this.plan,
      source: sourceOfTables(tables, 0),
      columns: this.columns,
      counts: { inspections, verdicts, period: dates.result() },
      problems: [...problemsOfTables(tables, () => true), ...problems],
      strokes,
      notes: notesOfTables(tables),
    };
    this.result.set(tally, this.options.summarise === false ? null : { summary: this.summaryOf(outcomes), asOf: this.period.to, baseline: null, baselineInfo: null });
  }

  private summaryOf(outcomes: readonly ShardOutcome[]): FleetOutcome['summary'] {
    const summariser = new FleetSummariser(this.plan, this.period);
    let before = 0;
    for (const { summary, lastRow } of outcomes) {
      summariser.merge(summary!, before);
      before += lastRow;
    }
    return summariser.result();
  }

  private tableOf({ sheet, isReshaped, problems, notes, seen, source }: ShardOutcome, index: number): ReadTable {
    const reader = { columns: this.columnsOf[index]!, dictionary: this.base.dictionary, sheet, isReshaped, problems: [...problems], notes, seen: () => seen };
    return { reader, otherSheets: [], source: () => source };
  }

  private async strokes(): Promise<OpenedStrokes> {
    const { strokes, dateOrder, caps } = this.options;
    return strokes === undefined ? { strokes: null, problems: [] } : openStrokes(strokes, { dateOrder, caps });
  }

  private close(): void {
    for (const thread of this.threads) thread.end();
    for (const { lines } of this.states) lines.close();
  }
}

function errorOf(error: Extract<FromShard, { kind: 'refused' }>['error']): Error {
  return typeof error === 'string' ? new Error(error) : new TreadlebookError(error);
}
