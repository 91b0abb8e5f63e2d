import { existsSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { packagePath } from '../../util/package-path.js';
import { TreadlebookError } from '../../util/treadlebook-error.js';

/** So many threads wait at most for the next workbook, and so long each, in milliseconds. */
const WAITING = { threads: 2, milliseconds: 10_000 } as const;

interface WaitingThread {
  readonly worker: Worker;
  readonly memoryMegabytes: number;
  readonly timer: NodeJS.Timeout;
}

const waiting: WaitingThread[] = [];

/**
 * A thread that reads workbooks, with a bound on its memory: one that waits, or a new one. To start one takes longer than to read a small workbook.
 *
 * @throws TreadlebookError `defect` where the built code is missing
 */
export function takeReaderThread(memoryMegabytes: number): Worker {
  const found = waiting.find((one) => one.memoryMegabytes === memoryMegabytes);
  if (found) {
    forget(found);
    return found.worker;
  }
  const worker = new Worker(builtWorker(), { execArgv: [], resourceLimits: { maxOldGenerationSizeMb: memoryMegabytes }, name: 'treadlebook workbook reader' });
  worker.unref();
  return worker;
}

/** Lets a thread that has nothing to do any longer wait a while for the next workbook. It does not keep the process alive. */
export function giveBackReaderThread(worker: Worker, memoryMegabytes: number): void {
  leaveAlone(worker);
  worker.unref();
  if (waiting.length === WAITING.threads) {
    void worker.terminate();
    return;
  }
  const end = (): void => {
    forget(one);
    void worker.terminate();
  };
  const one: WaitingThread = { worker, memoryMegabytes, timer: setTimeout(() => end(), WAITING.milliseconds).unref() };
  worker.on('error', end);
  worker.on('exit', end);
  waiting.push(one);
}

/** By name: a worker of Node has listeners of its own beside these, which it cannot do without. */
function leaveAlone(worker: Worker): void {
  for (const event of ['message', 'messageerror', 'error', 'exit']) worker.removeAllListeners(event);
}

function forget(one: WaitingThread): void {
  clearTimeout(one.timer);
  leaveAlone(one.worker);
  const at = waiting.indexOf(one);
  if (at !== -1) waiting.splice(at, 1);
}

/** A worker runs built code, also where the code that starts it does not. */
function builtWorker(): string {
  const path = packagePath('dist', 'formats', 'xlsx-worker', 'xlsx-worker.js');
  if (existsSync(path)) return path;
  throw new TreadlebookError({ code: 'defect', where: path, what: 'the built reader of workbooks is missing', mend: 'run `npm run build`' });
}
