import { ownText } from '../util/own-text.js';
import type { RawCell } from '../util/raw-table.js';
import type { EntryContext, ReadEntry } from './read-entry.js';

/** What a cell means, and the text as found where that says more. */
export interface ReadCell {
  readonly read: ReadEntry;
  readonly found: string | null;
}

/** Longer texts hardly come twice. */
const LONGEST_KEPT = 20;
/** Longer texts are a good part of the page that they were cut from, and may stand in many cells as one. */
const LONGEST_COPIED = 500;
/** Texts kept of one column and context; what comes beyond is read each time. */
const MOST_KEPT = 2000;

/**
 * Reads the cells of one column and keeps what came of short texts: a column of readings has few different ones. Contexts
 * are told apart by identity, so whoever calls keeps one of each.
 */
export class CellReader {
  private readonly kept = new Map<EntryContext, Map<string, ReadCell>>();

  /** @param readCell what is to be known of a cell, which must hang on the cell and the context alone */
  constructor(private readonly readCell: (cell: RawCell, context: EntryContext) => ReadCell) {}

  read(cell: RawCell, context: EntryContext): ReadCell {
    if (typeof cell !== 'string') return this.readCell(cell, context);
    if (cell.length > LONGEST_KEPT) return this.readCell(cell.length > LONGEST_COPIED ? cell : ownText(cell), context);
    let texts = this.kept.get(context);
    if (texts === undefined) this.kept.set(context, (texts = new Map()));
    let result = texts.get(cell);
    if (result === undefined) {
      const own = ownText(cell);
      result = this.readCell(own, context);
      if (texts.size < MOST_KEPT) texts.set(own, result);
    }
    return result;
  }
}
