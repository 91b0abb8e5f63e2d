import { raiseCap } from '../input-caps.js';
import { shiftFormula } from './shift-formula.js';
import { unreadable } from './unreadable.js';
import type { XmlAttributes } from './xml-reader.js';

/** A formula as it is stored: its text, and the cell (both counted from 1) that the text is written for. */
export interface StoredFormula {
  readonly row: number;
  readonly column: number;
  readonly text: string;
}

interface Master {
  readonly formula: StoredFormula;
  shift: ((rows: number, columns: number) => string) | null;
}

/**
 * Writes out the formulas of a sheet that are stored once for many cells (ECMA-376 Part 1, 18.3.1.40): the first cell
 * holds the text, the others only its index.
 */
export class SharedFormulas {
  readonly #masters = new Map<string, Master>();
  readonly #where: () => string;
  readonly #maxLength: number;
  #length = 0;

  /** @param maxLength how many characters may be written out in all */
  constructor(maxLength: number, where: () => string) {
    this.#maxLength = maxLength;
    this.#where = where;
  }

  /**
   * The formula of a cell, or null if it holds no text (as the cells of a data table).
   *
   * @throws TreadlebookError `input_unreadable` when the first cell is not there or too much would be written out
   */
  resolve(text: string, attributes: XmlAttributes, row: number, column: number): string | null {
    const found = this.#find(text, attributes, row, column);
    if (found === null || text !== '') return found?.formula.text ?? null;
    found.shift ??= shiftFormula(found.formula.text);
    const formula = found.shift(row - found.formula.row, column - found.formula.column);
    this.#length += formula.length;
    if (this.#length > this.#maxLength) throw unreadable(this.#where(), `the shared formulas come to more than ${this.#maxLength} characters`, raiseCap('xlsx.expandedFormulas', this.#maxLength));
    return formula;
  }

  /**
   * The formula of a cell as it is stored; cells that share one get the same object.
   *
   * @throws TreadlebookError `input_unreadable` when the first cell is not there
   */
  stored(text: string, attributes: XmlAttributes, row: number, column: number): StoredFormula | null {
    return this.#find(text, attributes, row, column)?.formula ?? null;
  }

  #find(text: string, attributes: XmlAttributes, row: number, column: number): Master | null {
    const index = attributes['t'] === 'shared' ? (attributes['si'] ?? '') : null;
    if (text !== '') {
      const master: Master = { formula: { row, column, text }, shift: null };
      if (index !== null) this.#masters.set(index, master);
      return master;
    }
    if (index === null) return null;
    const master = this.#masters.get(index);
    if (!master) throw unreadable(this.#where(), `it shares the formula ${index.slice(0, 20)}, which no earlier cell holds`);
    return master;
  }
}
