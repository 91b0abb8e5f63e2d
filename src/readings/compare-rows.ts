import type { DifferenceKind, CellComparer } from './compare-cells.js';
import type { ComparedColumn, Keying } from './compare-columns.js';

/** How far two rows agree. */
export interface RowAgreement {
  /** Cells that are filled in at least one of the two rows. */
  readonly filled: number;
  readonly equal: number;
}

/** Compares whole rows of two keyings, by their positions. */
export class RowComparer {
  private readonly words = { a: new Map<number, readonly string[]>(), b: new Map<number, readonly string[]>() };
  private readonly contents = { a: new Map<number, string>(), b: new Map<number, string>() };

  constructor(
    private readonly cells: CellComparer,
    readonly columns: readonly ComparedColumn[],
    readonly a: Keying,
    readonly b: Keying,
  ) {}

  /** Calls back for every column of which at least one of the two cells is filled. */
  forEachFilled(atA: number, atB: number, take: (kind: DifferenceKind | 'same', column: ComparedColumn, index: number) => void): void {
    const [a, b] = [this.a.inspections[atA]!, this.b.inspections[atB]!];
    for (const [index, column] of this.columns.entries()) {
      const kind = this.cells.compare(column, a, b);
      if (kind !== null) take(kind, column, index);
    }
  }

  /** How far two rows agree. */
  agreement(atA: number, atB: number): RowAgreement {
    let [filled, equal] = [0, 0];
    this.forEachFilled(atA, atB, (kind) => {
      filled += 1;
      if (kind === 'same') equal += 1;
    });
    return { filled, equal };
  }

  /** A word for every cell of a row: rows that mean the same have the same words. */
  wordsOf(side: 'a' | 'b', at: number): readonly string[] {
    let words = this.words[side].get(at);
    if (!words) {
      const inspection = this[side].inspections[at]!;
      words = this.columns.map((column) => this.cells.token(column, column[side], inspection));
      this.words[side].set(at, words);
    }
    return words;
  }

  /** The words of a row as one text, which puts rows in an order that does not depend on where they stand. */
  contentOf(side: 'a' | 'b', at: number): string {
    let content = this.contents[side].get(at);
    if (content === undefined) {
      content = this.wordsOf(side, at).join('\u001f');
      this.contents[side].set(at, content);
    }
    return content;
  }
}
