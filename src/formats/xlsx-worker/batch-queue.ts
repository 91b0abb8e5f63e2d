import type { RawCell } from '../../util/raw-table.js';
import type { HiddenColumns, StoredFormula, XlsxFinding } from '../read-xlsx.js';
import type { Batch } from './messages.js';

/** About so many characters and cells go into one batch, and so many rows at most. */
const BATCH = { weight: 65_536, rows: 500 } as const;
/** How many characters and cells may be under way. */
const WINDOW = 8 * BATCH.weight;
/** What a cell weighs beside its characters. */
const CELL = 8;

/** A row as any walk gives it. */
export interface WalkedRow {
  readonly cells: readonly RawCell[];
  readonly formulas?: readonly (string | StoredFormula | null)[];
  readonly shared?: readonly number[];
}

/** What the batches of all walks of a workbook have in common. */
export class SentBefore {
  readonly #strings = new Set<number>();
  #findings = 0;

  constructor(private readonly findings: readonly XlsxFinding[]) {}

  /** True the first time. */
  isNew(string: number): boolean {
    if (this.#strings.has(string)) return false;
    this.#strings.add(string);
    return true;
  }

  newFindings(): readonly XlsxFinding[] {
    const found = this.findings.slice(this.#findings);
    this.#findings = this.findings.length;
    return found;
  }
}

/** Gathers the rows of one walk into batches, and holds the walk while too much of it waits to be taken. */
export class BatchQueue {
  #rows: WalkedRow[] = [];
  #strings = new Map<number, string>();
  #weight = 0;
  /** The weights of the batches under way. */
  readonly #sent: number[] = [];
  #hiddenSent = 0;
  #stopped = false;
  #resume: (() => void) | null = null;

  constructor(
    private readonly walk: number,
    private readonly hiddenColumns: readonly HiddenColumns[],
    private readonly before: SentBefore,
    private readonly tell: (batch: Batch) => void,
  ) {}

  /** Adds a row; false when no more is wanted. */
  async add(row: WalkedRow): Promise<boolean> {
    const light = this.#withoutShared(row);
    this.#rows.push(light);
    this.#weight += weightOf(light);
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

  #withoutShared(row: WalkedRow): WalkedRow {
    const { shared = [] } = row;
    if (shared.length === 0) return row;
    const cells = [...row.cells];
    for (let at = 0; at < shared.length; at += 2) {
      const [column, string] = [shared[at]!, shared[at + 1]!];
      if (this.before.isNew(string)) {
        const text = cells[column] as string;
        this.#strings.set(string, text);
        this.#weight += text.length;
      }
      cells[column] = null;
    }
    return { ...row, cells };
  }

  /** What was noted as sent before must be sent, also where nobody waits for its rows any longer. */
  #send(end: boolean): void {
    if (this.#stopped) this.#rows = [];
    this.tell({ kind: 'batch', walk: this.walk, rows: this.#rows, hiddenColumns: this.hiddenColumns.slice(this.#hiddenSent), strings: this.#strings, findings: this.before.newFindings(), end });
    this.#hiddenSent = this.hiddenColumns.length;
    this.#sent.push(this.#weight);
    this.#rows = [];
    this.#strings = new Map();
    this.#weight = 0;
  }
}

function weightOf({ cells, formulas = [] }: WalkedRow): number {
  let weight = CELL;
  for (const cell of cells) weight += CELL + (typeof cell === 'string' ? cell.length : 0);
  for (const formula of formulas) weight += CELL + (typeof formula === 'string' ? formula.length : 0);
  return weight;
}
