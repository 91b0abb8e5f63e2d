import type { Worker } from 'node:worker_threads';
import { TreadlebookError } from '../../util/treadlebook-error.js';
import { raiseCap, type XlsxCaps } from '../input-caps.js';
import type { XlsxFinding } from '../read-xlsx.js';
import { unreadable } from '../xlsx-reader/unreadable.js';
import type { Batch, BookFacts, BookToOpen, FromWorker, ToWorker } from './messages.js';
import { giveBackReaderThread, takeReaderThread } from './reader-threads.js';

/** What the worker may use, and how long someone may wait without a sign of life. */
type WorkerLimits = Pick<XlsxCaps, 'memoryMegabytes' | 'stallSeconds'>;

interface Waiting<T> {
  resolve(value: T): void;
  reject(error: Error): void;
}

/** The batches of one walk that came, and who waits for the next. */
interface Inbox {
  readonly batches: Batch[];
  error: Error | null;
  waiting: Waiting<Batch> | null;
}

/**
 * A worker that reads one workbook, from this side. It keeps the process alive only while someone waits for it, and is gone after
 * `close` or the first failure. Nothing here leads to the open book, so that a book that is no longer used can be collected.
 */
export class WorkerConnection {
  readonly #worker: Worker;
  readonly #name: string;
  readonly #limits: WorkerLimits;
  readonly #inboxes = new Map<number, Inbox>();
  readonly #strings = new Map<number, string>();
  /** Those of the opening, and those that came with rows. */
  readonly findings: XlsxFinding[] = [];
  #opening: Waiting<BookFacts> | null = null;
  #walks = 0;
  /** What the worker is still busy with: the opening, 0, and the walks that it has not ended. */
  readonly #underWay = new Set([0]);
  #waiters = 0;
  #heardAt = 0;
  #watch: NodeJS.Timeout | null = null;
  #failure: Error | null = null;
  #givenBack = false;

  constructor(book: BookToOpen, limits: WorkerLimits) {
    this.#name = book.options.name ?? 'the workbook';
    this.#limits = limits;
    this.#worker = takeReaderThread(limits.memoryMegabytes);
    this.#worker.on('message', (message: FromWorker) => this.#hear(message));
    this.#worker.on('messageerror', (cause) => this.#fail(this.#brokeOff(cause)));
    this.#worker.on('error', (cause) => this.#fail(isOutOfMemory(cause) ? this.#outOfMemory(cause) : this.#brokeOff(cause)));
    this.#worker.on('exit', (code) => this.#fail(this.#brokeOff(new Error(`it ended with ${code}`))));
    this.#tell({ kind: 'open', ...book });
  }

  /** What the workbook is; to be asked once. */
  opened(): Promise<BookFacts> {
    return this.#wait((waiting) => (this.#opening = waiting));
  }

  /** The batches of one walk. To break off ends the walk in the worker too. */
  async *walk(sheet: number, as: Extract<ToWorker, { kind: 'walk' }>['as']): AsyncGenerator<Batch> {
    if (this.#failure) throw this.#failure;
    const walk = (this.#walks += 1);
    const inbox: Inbox = { batches: [], error: null, waiting: null };
    this.#inboxes.set(walk, inbox);
    this.#underWay.add(walk);
    this.#tell({ kind: 'walk', walk, sheet, as });
    let ended = false;
    try {
      while (!ended) {
        const batch = inbox.batches.shift() ?? (await this.#nextBatch(inbox));
        ended = batch.end;
        yield batch;
        if (!ended) this.#tell({ kind: 'taken', walk });
      }
    } finally {
      this.#inboxes.delete(walk);
      if (!ended) this.#tell({ kind: 'stop', walk });
    }
  }

  /** A shared string that came with the rows. */
  string(number: number): string {
    return this.#strings.get(number)!;
  }

  /** Lets go of the worker, which is ended unless it has done all that it was asked for. Whoever still waits is told that the workbook was closed. */
  close(): void {
    if (this.#failure) return;
    if (this.#underWay.size === 0) this.#giveBack();
    this.#fail(new TreadlebookError({ code: 'input_unreadable', where: this.#name, what: 'the workbook was closed before it was read to its end', mend: 'close it after the last row' }));
  }

  async #nextBatch(inbox: Inbox): Promise<Batch> {
    if (inbox.error) throw inbox.error;
    return this.#wait((waiting) => (inbox.waiting = waiting));
  }

  #tell(message: ToWorker): void {
    if (!this.#failure) this.#worker.postMessage(message);
  }

  #hear(message: FromWorker): void {
    this.#heardAt = performance.now();
    if (message.kind === 'opened') {
      this.#underWay.delete(0);
      this.findings.push(...message.book.findings);
      this.#opening?.resolve(message.book);
    } else if (message.kind === 'batch') {
      if (message.end) this.#underWay.delete(message.walk);
      for (const [number, text] of message.strings) this.#strings.set(number, text);
      this.findings.push(...message.findings);
      const inbox = this.#inboxes.get(message.walk);
      const waiting = inbox?.waiting;
      if (inbox) inbox.waiting = null;
      if (waiting) waiting.resolve(message);
      else inbox?.batches.push(message);
    } else if (message.kind === 'refused') {
      const error = new TreadlebookError(message.error);
      if (message.inOrder) this.#underWay.delete(message.walk ?? 0);
      if (message.walk === null) {
        if (message.inOrder) this.#giveBack();
        this.#fail(error);
      }
      const inbox = message.walk === null ? undefined : this.#inboxes.get(message.walk);
      if (inbox) inbox.error = error;
      inbox?.waiting?.reject(error);
    }
  }

  async #wait<T>(start: (waiting: Waiting<T>) => void): Promise<T> {
    if (this.#failure) throw this.#failure;
    this.#waiters += 1;
    if (this.#waiters === 1) {
      this.#worker.ref();
      this.#heardAt = performance.now();
      this.#watch = setInterval(() => this.#look(), (this.#limits.stallSeconds * 1000) / 4);
    }
    try {
      return await new Promise<T>((resolve, reject) => start({ resolve, reject }));
    } finally {
      this.#waiters -= 1;
      if (this.#waiters === 0) {
        if (!this.#givenBack) this.#worker.unref();
        if (this.#watch) clearInterval(this.#watch);
      }
    }
  }

  /** Messages that came while this thread was busy are heard before the silence is judged. */
  #look(): void {
    setImmediate(() => {
      const { stallSeconds } = this.#limits;
      if (this.#waiters > 0 && performance.now() - this.#heardAt >= stallSeconds * 1000) {
        this.#fail(unreadable(this.#name, `reading it came to a standstill: nothing was heard for ${stallSeconds} seconds`, 'open it in a spreadsheet program, copy the readings into a new workbook and save that'));
      }
    });
  }

  #giveBack(): void {
    this.#tell({ kind: 'close' });
    giveBackReaderThread(this.#worker, this.#limits.memoryMegabytes);
    this.#givenBack = true;
  }

  /** The first failure counts; what comes after it is the end of a worker that was told to end. */
  #fail(error: Error): void {
    if (this.#failure) return;
    this.#failure = error;
    if (!this.#givenBack) void this.#worker.terminate();
    this.#opening?.reject(error);
    for (const inbox of this.#inboxes.values()) {
      inbox.error = error;
      inbox.waiting?.reject(error);
    }
  }

  #outOfMemory(cause: unknown): TreadlebookError {
    return unreadable(this.#name, `reading it takes more than ${this.#limits.memoryMegabytes} MB of memory`, `delete the sheets and columns that hold no readings and save it again, or ${raiseCap('xlsx.memoryMegabytes', this.#limits.memoryMegabytes)}`, cause);
  }

  #brokeOff(cause: unknown): TreadlebookError {
    return unreadable(this.#name, `the reader broke off (${cause instanceof Error ? cause.message : String(cause)})`, undefined, cause);
  }
}

function isOutOfMemory(cause: unknown): boolean {
  return cause instanceof Error && 'code' in cause && cause.code === 'ERR_WORKER_OUT_OF_MEMORY';
}
