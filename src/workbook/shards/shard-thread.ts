import { existsSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { packagePath } from '../../util/package-path.js';
import { TreadlebookError } from '../../util/treadlebook-error.js';
import type { FromShard, ShardStart, ToShard } from './shard-messages.js';

/** A thread that evaluates some of several files, from this side. It keeps the process alive while someone waits for it. */
export class ShardThread {
  private readonly worker: Worker;
  private hasEnded = false;

  /**
   * @param hear takes each message
   * @param fail takes the one fault that ends the thread before its time
   */
  constructor(start: ShardStart, hear: (message: FromShard) => void, fail: (error: Error) => void) {
    this.worker = new Worker(builtWorker(), { workerData: start, execArgv: [], name: 'treadlebook evaluator' });
    this.worker.on('message', hear);
    this.worker.on('messageerror', fail);
    this.worker.on('error', fail);
    this.worker.on('exit', (code) => {
      if (!this.hasEnded) fail(new Error(`a thread ended with ${code}`));
    });
  }

  /** Whether someone waits for it; at first someone does. */
  setAwaited(isAwaited: boolean): void {
    if (isAwaited) this.worker.ref();
    else this.worker.unref();
  }

  tell(message: ToShard): void {
    this.worker.postMessage(message);
  }

  end(): void {
    this.hasEnded = true;
    void this.worker.terminate();
  }
}

/** A thread runs built code, also where the code that starts it does not. */
function builtWorker(): string {
  const path = packagePath('dist', 'workbook', 'shards', 'shard-worker.js');
  if (existsSync(path)) return path;
  throw new TreadlebookError({ code: 'defect', where: path, what: 'the built evaluator is missing', mend: 'run `npm run build`' });
}
