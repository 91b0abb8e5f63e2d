import { TreadlebookError } from '../../util/treadlebook-error.js';
import { openXlsx, type HiddenColumns, type XlsxBook, type XlsxSheet } from '../read-xlsx.js';
import { unreadable } from '../xlsx-reader/unreadable.js';
import { BatchQueue, SentBefore, type WalkedRow } from './batch-queue.js';
import type { BookToOpen, FromWorker, ToWorker, WalkKind } from './messages.js';

/** One workbook on the side of the worker: what is told of it, and the walks over its sheets. */
export class BookInWorker {
  readonly #queues = new Map<number, BatchQueue>();
  readonly #name: string;
  #book: XlsxBook | null = null;
  #before: SentBefore | null = null;

  constructor(
    private readonly given: BookToOpen,
    private readonly tell: (message: FromWorker) => void,
  ) {
    this.#name = given.options.name ?? 'the workbook';
  }

  /** Opens the workbook and tells what it is, or why it is refused. */
  async open(): Promise<void> {
    try {
      const book = await openXlsx(this.given.bytes, { ...this.given.options, marksShared: true });
      const before = new SentBefore(book.findings);
      const { date1904, definedNames, application } = book;
      [this.#book, this.#before] = [book, before];
      this.tell({ kind: 'opened', book: { date1904, definedNames, application, findings: before.newFindings(), sheets: book.sheets.map((sheet) => ({ name: sheet.name, state: sheet.state })) } });
    } catch (error) {
      this.#refuse(null, error);
    }
  }

  /** Does what is asked of an open workbook. */
  hear(message: Extract<ToWorker, { readonly walk: number }>): void {
    if (message.kind === 'walk') void this.#walk(this.#book!.sheets[message.sheet]!, message.as, message.walk);
    else if (message.kind === 'taken') this.#queues.get(message.walk)?.taken();
    else this.#queues.get(message.walk)?.stop();
  }

  async #walk(sheet: XlsxSheet, as: WalkKind, number: number): Promise<void> {
    const { rows, hiddenColumns } = rowsOf(sheet, as);
    const queue = new BatchQueue(number, hiddenColumns, this.#before!, this.tell);
    this.#queues.set(number, queue);
    try {
      for await (const row of rows) if (!(await queue.add(row))) break;
      queue.end();
    } catch (error) {
      // The rows before the damage are told first, as a walk without a worker gives them.
      queue.flush();
      this.#refuse(number, error);
    } finally {
      this.#queues.delete(number);
    }
  }

  /** Anything but a TreadlebookError is a fault of the reader. */
  #refuse(walk: number | null, error: unknown): void {
    const inOrder = error instanceof TreadlebookError;
    const { code, where, what, mend } = inOrder ? error : unreadable(this.#name, `the reader broke off (${String(error)})`);
    this.tell({ kind: 'refused', walk, inOrder, error: { code, where, what, mend } });
  }
}

function rowsOf(sheet: XlsxSheet, as: WalkKind): { readonly rows: AsyncIterable<WalkedRow>; readonly hiddenColumns: readonly HiddenColumns[] } {
  if (as === 'stored') return sheet.stored();
  return { rows: as === 'table' ? sheet.table().rows : sheet.rowsWithFormulas(), hiddenColumns: [] };
}
