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
  /** The fields with the beginning of their items, in the order of the items' texts. */
  private readonly fields: readonly { readonly name: string; readonly position: number; readonly start: string }[];

  /** @param extraHeaders headers of the columns that are not ours, in the order of `inspection.extra` */
  constructor(
    private readonly dictionary: Dictionary,
    private readonly extraHeaders: readonly string[],
  ) {
    this.fields = [...dictionary.fields.entries()].map(([position, { name }]) => ({ name, position, start: `[${JSON.stringify(name)},` })).sort((a, b) => (a.start < b.start ? -1 : 1));
  }

  add(inspection: Inspection): void {
    const { values, extra } = inspection;
    const asFound = inspection.asFound.size === 0 ? inspection.asFound : foundKept(inspection, (name) => this.dictionary.fields[fieldPosition(this.dictionary, name)]!);
    let fields = '';
    for (const { name, position, start } of this.fields) {
      const found = asFound.size === 0 ? undefined : asFound.get(name);
      const value = values[position] ?? null;
      if (found === undefined && value === null) continue;
      fields += `${fields === '' ? '' : ','}${start}${found === undefined ? `"value",${JSON.stringify(canonicalValue(value))}` : `"found",${JSON.stringify(found)}`}]`;
    }
    const own = extra.flatMap((cell, index): readonly CellContent[][] => {
      const value = extraCell(cell);
      return value === null ? [] : [[cutCellText(this.extraHeaders[index] ?? ''), canonicalValue(value)]];
    });
    this.rows.push(sha256(`[[${fields}],${inOrder(own)}]`));
  }

  /** The SHA-256 of the hashes of the rows in their own order, one a line. */
  result(): string {
    return sha256([...this.rows].sort().join('\n'));
  }
}

/** Below this, a number of at most three decimals has twelve digits or fewer. */
const SHORT = 1e8;

function canonicalValue(value: CellContent): CellContent {
  if (typeof value === 'string') return cutCellText(value);
  if (typeof value !== 'number' || (Math.abs(value) < SHORT && Math.round(value * 1000) / 1000 === value)) return value;
  // First to 15 as a spreadsheet program does, so that both come to the same twelve.
  return Number(Number(value.toPrecision(15)).toPrecision(12));
}

/** A JSON list of the items in the order of their own texts. */
function inOrder(items: readonly (readonly CellContent[])[]): string {
  return `[${items.map((item) => JSON.stringify(item)).sort().join(',')}]`;
}
