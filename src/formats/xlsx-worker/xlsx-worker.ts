import { parentPort, workerData } from 'node:worker_threads';
import { TreadlebookError } from '../../util/treadlebook-error.js';
import { openXlsx, type HiddenColumns, type XlsxSheet } from '../read-xlsx.js';
import { unreadable } from '../xlsx-reader/unreadable.js';
import { BatchQueue, SentBefore, type WalkedRow } from './batch-queue.js';
import type { FromWorker, ToWorker, WalkKind, WorkerStart } from './messages.js';

/** How often the worker says that it is at work, in milliseconds. */
const BUSY_EVERY = 1000;

const { bytes, options } = workerData as WorkerStart;
const name = options.name ?? 'the workbook';
const tell = (message: FromWorker): void => parentPort!.postMessage(message);
const queues = new Map<number, BatchQueue>();

/** What is told of an error; anything but a TreadlebookError is a fault of the reader. */
function detailsOf(error: unknown): Extract<FromWorker, { kind: 'refused' }>['error'] {
  const { code, where, what, mend } = error instanceof TreadlebookError ? error : unreadable(name, `the reader broke off (${String(error)})`);
  return { code, where, what, mend };
}

function rowsOf(sheet: XlsxSheet, as: WalkKind): { readonly rows: AsyncIterable<WalkedRow>; readonly hiddenColumns: readonly HiddenColumns[] } {
  if (as === 'stored') return sheet.stored();
  return { rows: as === 'table' ? sheet.table().rows : sheet.rowsWithFormulas(), hiddenColumns: [] };
}

async function walk(sheet: XlsxSheet, as: WalkKind, number: number, before: SentBefore): Promise<void> {
  const { rows, hiddenColumns } = rowsOf(sheet, as);
  const queue = new BatchQueue(number, hiddenColumns, before, tell);
  queues.set(number, queue);
  try {
    for await (const row of rows) if (!(await queue.add(row))) break;
    queue.end();
  } catch (error) {
    // The rows before the damage are told first, as a walk without a worker gives them.
    queue.flush();
    tell({ kind: 'refused', walk: number, error: detailsOf(error) });
  } finally {
    queues.delete(number);
  }
}

setInterval(() => tell({ kind: 'busy' }), BUSY_EVERY);

try {
  const book = await openXlsx(bytes, { ...options, marksShared: true });
  const before = new SentBefore(book.findings);
  parentPort!.on('message', (message: ToWorker) => {
    if (message.kind === 'walk') void walk(book.sheets[message.sheet]!, message.as, message.walk, before);
    else if (message.kind === 'taken') queues.get(message.walk)?.taken();
    else queues.get(message.walk)?.stop();
  });
  const { date1904, definedNames, application } = book;
  tell({ kind: 'opened', book: { date1904, definedNames, application, findings: before.newFindings(), sheets: book.sheets.map((sheet) => ({ name: sheet.name, state: sheet.state })) } });
} catch (error) {
  tell({ kind: 'refused', walk: null, error: detailsOf(error) });
}
