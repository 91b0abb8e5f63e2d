import type { RawCell, RawRow, RawTable } from '../../util/raw-table.js';
import type { HiddenColumns, OpenXlsxOptions, RowWithFormulas, StoredFormula, StoredRow, StoredSheet, XlsxBook, XlsxFinding, XlsxSheet } from '../read-xlsx.js';
import type { WalkedRow } from './batch-queue.js';
import type { Batch, BookFacts } from './messages.js';
import { capsOf } from '../input-caps.js';
import { shareBytes } from './share-bytes.js';
import { WorkerConnection } from './worker-connection.js';

/** An open workbook whose reading is done by a worker. */
export interface WorkerBook extends XlsxBook {
  /** Ends the worker; walks that are under way fail. A book that is forgotten without it loses its worker some time later. */
  close(): void;
}

const forgotten = new FinalizationRegistry<WorkerConnection>((connection) => connection.close());

/**
 * Opens a workbook as {@link openXlsx} does, in a thread of its own with bounds on its memory and on its silence, so that reading goes on while the
 * rows are used, and no file can take the process down.
 *
 * @param bytes copied once, unless they stand in shared memory
 * @throws TreadlebookError as `openXlsx`; and `input_unreadable` where the reader needs too much memory, breaks off or comes to a standstill
 * @example
 * const book = await openXlsxInWorker(await readFile('fleet.xlsx'), { name: 'fleet.xlsx' });
 * for await (const row of book.sheets[0].table().rows) console.log(row.cells);
 * book.close();
 */
export async function openXlsxInWorker(bytes: Uint8Array, options: OpenXlsxOptions = {}): Promise<WorkerBook> {
  const { name, marksShared: _always, ...changes } = options;
  const caps = capsOf('xlsx', changes);
  const connection = new WorkerConnection({ bytes: shareBytes([bytes]), options: { ...caps, name } }, caps);
  const book = new ConnectedBook(connection, await connection.opened());
  forgotten.register(book, connection);
  return book;
}

class ConnectedBook implements WorkerBook {
  readonly date1904: boolean;
  readonly sheets: readonly XlsxSheet[];
  readonly definedNames: ReadonlyMap<string, string>;
  readonly application: string | null;
  readonly findings: readonly XlsxFinding[];

  constructor(
    private readonly connection: WorkerConnection,
    facts: BookFacts,
  ) {
    this.date1904 = facts.date1904;
    this.definedNames = facts.definedNames;
    this.application = facts.application;
    this.findings = connection.findings;
    this.sheets = facts.sheets.map(({ name, state }, index): XlsxSheet => ({
      name,
      state,
      table: (): RawTable => ({ sheet: name, date1904: this.date1904, rows: this.rows<RawRow>(index, 'table') }),
      rowsWithFormulas: () => this.rows<RowWithFormulas>(index, 'rowsWithFormulas'),
      stored: () => this.stored(index),
    }));
  }

  close(): void {
    this.connection.close();
  }

  /** The generator holds the book, so that the worker lives as long as someone can still ask for rows. */
  private async *batches(sheet: number, as: 'table' | 'rowsWithFormulas' | 'stored'): AsyncGenerator<Batch> {
    yield* this.connection.walk(sheet, as);
  }

  private async *rows<T extends WalkedRow>(sheet: number, as: 'table' | 'rowsWithFormulas'): AsyncGenerator<T> {
    for await (const { rows } of this.batches(sheet, as)) for (const row of rows as readonly (T & WalkedRow)[]) yield this.whole(row);
  }

  /** A row with the long shared strings back in their cells. */
  private whole<T extends WalkedRow>(row: T): T {
    if (row.shared === undefined) return row;
    const { shared, ...others } = row;
    const cells = row.cells as RawCell[];
    for (let at = 0; at < shared.length; at += 2) cells[shared[at]!] = this.connection.string(shared[at + 1]!);
    return others as unknown as T;
  }

  private stored(sheet: number): StoredSheet {
    const hiddenColumns: HiddenColumns[] = [];
    const batches = this.batches(sheet, 'stored');
    const whole = (row: StoredRow): StoredRow => this.whole(row);
    const rows = async function* (): AsyncGenerator<StoredRow> {
      const shared = new SharedAgain();
      for await (const batch of batches) {
        hiddenColumns.push(...batch.hiddenColumns);
        for (const row of batch.rows as readonly StoredRow[]) yield shared.row(whole(row));
      }
    };
    return { rows: rows(), hiddenColumns };
  }
}

/** Formulas that cells share are one object within a batch; this makes them one within the sheet. */
class SharedAgain {
  readonly #formulas = new Map<string, StoredFormula>();

  row(row: StoredRow): StoredRow {
    const { number, formulas } = row;
    if (formulas.every((formula, index) => formula === null || (formula.row === number && formula.column === index + 1))) return row;
    return { ...row, formulas: formulas.map((formula) => (formula === null ? null : this.#one(formula))) };
  }

  #one(formula: StoredFormula): StoredFormula {
    const key = `${formula.row},${formula.column}`;
    const known = this.#formulas.get(key);
    if (known?.text === formula.text) return known;
    this.#formulas.set(key, formula);
    return formula;
  }
}
