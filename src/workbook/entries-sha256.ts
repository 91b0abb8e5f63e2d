import { fieldPosition, type Dictionary } from '../readings/dictionary.js';
import type { Inspection } from '../readings/inspection.js';
import { cutCellText } from '../util/cut-cell-text.js';
import { sha256 } from '../util/sha256.js';
import { extraCell, foundKept } from './cell-values.js';

type CellContent = string | number | boolean | null;

/**
 * Makes one SHA-256 of the entries of many inspections: what was understood, or the text as found where there is one, and the
 * columns of the user's own under their headers. The order of rows and of columns makes no difference, nor do digits of a
 * number beyond the twelfth: a spreadsheet program may drop those beyond the fifteenth. Texts count as a cell holds them.
 *
 * @example
 * const entries = new EntriesSha256(plan.dictionary, ['Weather']);
 * entries.add(inspection);
 * entries.result(); // 64 hexadecimal digits
 */
export class EntriesSha256 {
  private readonly rows: string[] = [];

  /** @param extraHeaders headers of the columns that are not ours, in the order of `inspection.extra` */
  constructor(
    private readonly dictionary: Dictionary,
    private readonly extraHeaders: readonly string[],
  ) {}

  add(inspection: Inspection): void {
    const { values, extra } = inspection;
    const asFound = foundKept(inspection, (name) => this.dictionary.fields[fieldPosition(this.dictionary, name)]!);
    const fields = this.dictionary.fields.flatMap(({ name }, position): readonly CellContent[][] => {
      const found = asFound.get(name);
      const value = values[position] ?? null;
      if (found !== undefined) return [[name, 'found', found]];
      return value === null ? [] : [[name, 'value', canonicalValue(value)]];
    });
    const own = extra.flatMap((cell, index): readonly CellContent[][] => {
      const value = extraCell(cell);
      return value === null ? [] : [[cutCellText(this.extraHeaders[index] ?? ''), canonicalValue(value)]];
    });
    this.rows.push(sha256(`[${inOrder(fields)},${inOrder(own)}]`));
  }

  /** The SHA-256 of the hashes of the rows in their own order, one a line. */
  result(): string {
    return sha256([...this.rows].sort().join('\n'));
  }
}

function canonicalValue(value: CellContent): CellContent {
  if (typeof value === 'string') return cutCellText(value);
  // First to 15 as a spreadsheet program does, so that both come to the same twelve.
  return typeof value === 'number' ? Number(Number(value.toPrecision(15)).toPrecision(12)) : value;
}

/** A JSON list of the items in the order of their own texts. */
function inOrder(items: readonly (readonly CellContent[])[]): string {
  return `[${items.map((item) => JSON.stringify(item)).sort().join(',')}]`;
}
