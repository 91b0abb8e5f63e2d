import { parentPort, workerData } from 'node:worker_threads';
import type { Evaluation } from '../../fleet/evaluation.js';
import { FleetSummariser } from '../../fleet/fleet-summariser.js';
import { RowEvaluator } from '../../fleet/row-evaluator.js';
import { VERDICTS, type Verdict } from '../../limits/verdict.js';
import { joinColumns } from '../../readings/join-columns.js';
import { TreadlebookError } from '../../util/treadlebook-error.js';
import { evaluatedLines } from '../evaluated-csv.js';
import { openReadings, type OpenedReadings } from '../open-readings.js';
import { PeriodCounter } from '../period-counts.js';
import { planFor, planOf } from '../plan-for.js';
import type { FromShard, JudgedInspection, ShardFile, ShardOutcome, ShardStart, ToShard } from './shard-messages.js';

/** Characters of CSV, and inspections, that go in one message. */
const [CSV_LENGTH, INSPECTIONS] = [1 << 16, 500];
/** Messages of rows that may be on their way. */
const MOST_ON_THEIR_WAY = 16;
const PROGRESS_EVERY = 1000;

/** What it makes has a buffer of its own, which is handed over and not copied. */
const ENCODER = new TextEncoder();

type Order = Extract<ToShard, { kind: 'evaluate' }>;

const { files, set, open } = workerData as ShardStart;
const base = planOf(set);
const tell = (message: FromShard): void => parentPort!.postMessage(message);

let onTheirWay = 0;
let wake: () => void = () => undefined;

/** Sends rows, and waits while too many are on their way. */
async function send(message: Extract<FromShard, { kind: 'csv' | 'inspections' }>): Promise<void> {
  parentPort!.postMessage(message, message.kind === 'csv' ? [message.text.buffer as ArrayBuffer] : []);
  onTheirWay += 1;
  while (onTheirWay >= MOST_ON_THEIR_WAY) await new Promise<void>((resolve) => (wake = resolve));
}

function refuse(index: number, error: unknown): void {
  if (!(error instanceof TreadlebookError)) return tell({ kind: 'refused', index, error: error instanceof Error ? error.message : String(error) });
  const { code, what, where, mend } = error;
  tell({ kind: 'refused', index, error: { code, what, where, mend } });
}

/** How far all the files have been read. */
const reached = { inspections: 0, bytes: 0 };

async function openAll(): Promise<Map<number, OpenedReadings> | null> {
  const tables = new Map<number, OpenedReadings>();
  for (const { index, path } of files) {
    let before = 0;
    const onRead = (bytes: number): void => {
      reached.bytes += bytes - before;
      before = bytes;
    };
    try {
      const table = await openReadings(path, { ...open, dictionary: base.dictionary, isPart: true, onRead });
      tables.set(index, table);
      tell({ kind: 'columns', index, columns: table.reader.columns });
    } catch (error) {
      refuse(index, error);
      return null;
    }
  }
  return tables;
}

async function evaluateAll(tables: ReadonlyMap<number, OpenedReadings>, order: Order): Promise<void> {
  const joined = joinColumns(order.columns);
  const evaluator = new RowEvaluator(planFor(base, joined.columns));
  for (const { index } of files) {
    try {
      const outcome = await evaluate({ index, table: tables.get(index)!, evaluator, columns: joined.columns, place: joined.places[index]!, order });
      tell({ kind: 'end', index, outcome });
    } catch (error) {
      refuse(index, error);
      return;
    }
  }
}

interface Shard {
  readonly index: ShardFile['index'];
  readonly table: OpenedReadings;
  readonly evaluator: RowEvaluator;
  readonly columns: ReturnType<typeof joinColumns>['columns'];
  readonly place: ReturnType<typeof joinColumns>['places'][number];
  readonly order: Order;
}

async function evaluate({ index, table, evaluator, columns, place, order: { wanted, period, summarise } }: Shard): Promise<ShardOutcome> {
  const { reader } = table;
  const { plan } = evaluator;
  const summariser = summarise ? new FleetSummariser(plan, period) : null;
  const dates = new PeriodCounter({ from: period.from, to: period.to });
  const verdicts = Object.fromEntries(VERDICTS.map((verdict) => [verdict, 0])) as Record<Verdict, number>;
  const lineOf = wanted.as === 'csv' ? evaluatedLines(plan, columns, wanted.delimiter) : null;
  let [inspections, lastRow, csv] = [0, 0, ''];
  let judged: JudgedInspection[] = [];
  const take = async (evaluation: Evaluation): Promise<void> => {
    if (lineOf !== null) {
      csv += lineOf(evaluation);
      if (csv.length < CSV_LENGTH) return;
      await send({ kind: 'csv', index, text: ENCODER.encode(csv) });
      csv = '';
    } else if (wanted.as === 'inspections') {
      judged.push([evaluation.inspection, evaluation.verdict]);
      if (judged.length < INSPECTIONS) return;
      await send({ kind: 'inspections', index, inspections: judged });
      judged = [];
    }
  };
  for await (const read of reader.inspections) {
    const evaluation = evaluator.evaluate({ ...read, extra: place(read.extra) });
    inspections += 1;
    reached.inspections += 1;
    lastRow = Math.max(lastRow, read.row);
    verdicts[evaluation.verdict] += 1;
    dates.add(evaluation);
    summariser?.add(evaluation);
    await take(evaluation);
    if (reached.inspections % PROGRESS_EVERY === 0) tell({ kind: 'progress', ...reached });
  }
  if (csv !== '') await send({ kind: 'csv', index, text: ENCODER.encode(csv) });
  if (judged.length > 0) await send({ kind: 'inspections', index, inspections: judged });
  const { sheet, isReshaped, problems, notes } = reader;
  return { lastRow, counts: { inspections, verdicts, period: dates.result() }, sheet, isReshaped, problems, notes, seen: reader.seen(), source: table.source(), summary: summariser?.state() ?? null };
}

const tables = await openAll();
parentPort!.on('message', (message: ToShard) => {
  if (message.kind === 'taken') {
    onTheirWay -= 1;
    wake();
  } else if (tables !== null) {
    void evaluateAll(tables, message);
  }
});
