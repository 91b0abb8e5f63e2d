import type { HiddenColumns } from '../read-xlsx.js';
import type { Batch } from './messages.js';

/** About so many characters and cells go into one batch, and so many rows at most. */
const BATCH = { weight: 65_536, rows: 500 } as const;
/** How many characters and cells may be under way. */
const WINDOW = 8 * BATCH.weight;
/** What a cell weighs beside its characters. */
const CELL = 8;

/** Gathers the rows of one walk into batches, and holds the walk while too much of it waits to be taken. */
export class BatchQueue {
  #rows: unknown[] = [];
  #weight = 0;
  /** The weights of the batches under way. */
  readonly #sent: number[] = [];
  #hiddenSent = 0;
  #stopped = false;
  #resume: (() => void) | null = null;

  constructor(
    private readonly walk: number,
    private readonly hiddenColumns: readonly HiddenColumns[],
    private readonly tell: (batch: Batch) => void,
  ) {}

  /** Adds a row; false when no more is wanted. */
  async add(row: object): Promise<boolean> {
    this.#rows.push(row);
    this.#weight += weightOf(row);
    if (this.#weight < BATCH.weight && this.#rows.length < BATCH.rows) return !this.#stopped;
    this.flush();
    while (!this.#stopped && this.#sent.reduce((sum, weight) => sum + weight, 0) > WINDOW) await new Promise<void>((resolve) => (this.#resume = resolve));
    return !this.#stopped;
  }

  /** Sends the rows gathered so far. */
  flush(): void {
    if (this.#rows.length > 0) this.#send(false);
  }

  end(): void {
    this.#send(true);
  }

  /** The oldest batch under way was used up. */
  taken(): void {
    this.#sent.shift();
    this.#resume?.();
  }

  stop(): void {
    this.#stopped = true;
    this.#resume?.();
  }

  #send(end: boolean): void {
    if (this.#stopped) return;
    this.tell({ kind: 'batch', walk: this.walk, rows: this.#rows, hiddenColumns: this.hiddenColumns.slice(this.#hiddenSent), end });
    this.#hiddenSent = this.hiddenColumns.length;
    this.#sent.push(this.#weight);
    this.#rows = [];
    this.#weight = 0;
  }
}

function weightOf(row: object): number {
  let weight = CELL;
  const { cells, formulas } = row as { readonly cells: readonly unknown[]; readonly formulas?: readonly unknown[] };
  for (const cell of cells) weight += CELL + (typeof cell === 'string' ? cell.length : 0);
  for (const formula of formulas ?? []) weight += CELL + (typeof formula === 'string' ? formula.length : 0);
  return weight;
}
