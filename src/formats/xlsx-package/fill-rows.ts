import type { FillValue } from './row-writer.js';
import { defect } from './sheet-limits.js';

/** The rows for one growing sheet. */
export interface SheetFill {
  /** The sheet's name in the template. */
  readonly sheet: string;
  /** The 1-based row of the template that the rows replace; it must be the last of its sheet. */
  readonly templateRow: number;
  /** How many rows will come; 0 takes the template row out. */
  readonly count: number;
  /** Values by column, index 0 being column A; in a formula's column the value is its stored result. */
  readonly rows: Iterable<readonly FillValue[]> | AsyncIterable<readonly FillValue[]>;
  /**
   * Whether rows share one text of a formula, where spreadsheet programs allow it. Default true;
   * false writes each row's formula out.
   */
  readonly sharedFormulas?: boolean;
  /** The height of a row in points, for rows whose text is wrapped; null leaves it to the program that opens the file. */
  readonly heightOf?: (values: readonly FillValue[]) => number | null;
}

/** Walks the rows of a fill, waiting only for rows that come asynchronously. */
export class FillRows {
  readonly #fill: SheetFill;
  readonly #iterator: Iterator<readonly FillValue[]> | AsyncIterator<readonly FillValue[]>;
  readonly #waits: boolean;
  #read = 0;
  #ended = false;

  constructor(fill: SheetFill) {
    this.#fill = fill;
    const { rows } = fill;
    this.#waits = Symbol.asyncIterator in rows;
    this.#iterator = Symbol.asyncIterator in rows ? rows[Symbol.asyncIterator]() : rows[Symbol.iterator]();
  }

  /** True when {@link next} gives a promise. */
  get waits(): boolean {
    return this.#waits;
  }

  /** The next row, or undefined after the last; more or fewer rows than announced are a defect. */
  next(): Promise<readonly FillValue[] | undefined> | readonly FillValue[] | undefined {
    const step = this.#iterator.next();
    return this.#waits
      ? Promise.resolve(step).then((result) => this.#take(result))
      : this.#take(step as IteratorResult<readonly FillValue[]>);
  }

  #take(result: IteratorResult<readonly FillValue[]>): readonly FillValue[] | undefined {
    const { sheet, count } = this.#fill;
    if (result.done) {
      this.#ended = true;
      if (this.#read === count) return undefined;
      throw defect(`sheet ${sheet}`, `${this.#read} rows came where ${count} were announced`, 'announce the true count');
    }
    this.#read += 1;
    if (this.#read > count) {
      throw defect(`sheet ${sheet}`, `more rows came than the ${count} announced`, 'announce the true count');
    }
    return result.value;
  }

  /** Tells the source that no more rows are wanted. */
  async close(): Promise<void> {
    if (!this.#ended) await this.#iterator.return?.();
    this.#ended = true;
  }
}
