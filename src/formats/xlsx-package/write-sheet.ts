import { columnLetters } from '../../util/column-letters.js';
import type { GrowingRows } from './column-plan.js';
import { FillRows, type SheetFill } from './fill-rows.js';
import { rowWriter } from './row-writer.js';
import { defect, SHEET_LIMITS, unwritable } from './sheet-limits.js';
import { sheetRows, type SheetRow } from './sheet-rows.js';
import { splitXml } from './split-xml.js';
import { withoutResults } from './without-results.js';
import { WORKSHEET_ORDER } from './worksheet-order.js';

const CHUNK = 65_536;

/** One sheet to be written. */
export interface SheetTask {
  readonly sheet: string;
  readonly path: string;
  /** The template's part. */
  readonly xml: string;
  readonly fill: SheetFill | undefined;
  /** A `drawing` element to add. */
  readonly drawing: string | undefined;
  readonly storeResults: boolean;
}

/**
 * Streams a worksheet part: children in schema order, the template row replaced by the rows of the fill.
 * A source of rows is walked once and only as fast as the chunks are taken.
 */
export async function* writeSheet(task: SheetTask): AsyncGenerator<string, void, undefined> {
  const { sheet, path, fill, storeResults } = task;
  const split = splitXml(task.xml, path);
  if (split.root !== 'worksheet') throw defect(`sheet ${sheet}`, `its root is ${split.root}`, 'use a plain worksheet');
  const children = split.children.map(({ name, xml }) => ({ name, xml }));
  if (task.drawing !== undefined) children.push({ name: 'drawing', xml: task.drawing });
  const rank = (name: string): number => {
    const place = WORKSHEET_ORDER.indexOf(name);
    if (place < 0) throw defect(`sheet ${sheet}`, `the place of its element ${name} is not known`, 'leave it out');
    return place;
  };
  children.sort((a, b) => rank(a.name) - rank(b.name));
  const dataRank = rank('sheetData');
  const join = (first: number, last: number): string =>
    children.filter(({ name }) => rank(name) >= first && rank(name) <= last && name !== 'dimension').map(({ xml }) => xml).join('');

  const data = children.find(({ name }) => name === 'sheetData')?.xml ?? '<sheetData/>';
  const rows = sheetRows(data, sheet);
  const kept = fill === undefined ? rows : rowsAbove(rows, fill);
  const template = rows.find((row) => row.number === fill?.templateRow);
  const source = fill === undefined || template === undefined ? undefined : new FillRows(fill);
  try {
    const first = await source?.next();
    const used = rows.filter((row) => row.cells.length > 0).flatMap((row) => row.cells.map((cell) => cell.column));
    const width = Math.min(Math.max(-1, ...[...new Set(used)]) + 1, SHEET_LIMITS.columns);
    const fullWidth = Math.min(Math.max(width, first?.length ?? 0), SHEET_LIMITS.columns);
    let text = split.head + join(rank('sheetPr'), rank('sheetPr'));
    text += `<dimension ref="${extent(kept, fill, fullWidth)}"/>`;
    text += `${join(rank('dimension'), dataRank - 1)}<sheetData>`;
    text += storeResults ? kept.map((row) => row.xml).join('') : withoutResults(kept);
    if (source !== undefined && fill !== undefined && template !== undefined && first !== undefined) {
      const write = rowWriter(template, growingRows(fill, data), fullWidth, storeResults, fill.heightOf);
      let number = fill.templateRow;
      for (let values: typeof first | undefined = first; values !== undefined; ) {
        text += write(number, values);
        number += 1;
        if (text.length >= CHUNK) {
          yield text;
          text = '';
        }
        const next = source.next();
        values = source.waits ? await next : (next as typeof values);
      }
    }
    yield `${text}</sheetData>${join(dataRank + 1, WORKSHEET_ORDER.length)}${split.tail}`;
  } finally {
    await source?.close();
  }
}

function growingRows(fill: SheetFill, data: string): GrowingRows {
  const taken = [...data.matchAll(/\bsi="([0-9]+)"/g)].map((match) => Number(match[1]));
  let shared = Math.max(-1, ...taken);
  const { sheet, templateRow, count, sharedFormulas } = fill;
  return { sheet, first: templateRow, count, share: sharedFormulas !== false, nextShared: () => (shared += 1) };
}

function rowsAbove(rows: readonly SheetRow[], fill: SheetFill): SheetRow[] {
  const { sheet, templateRow, count } = fill;
  const where = `sheet ${sheet}`;
  if (!Number.isInteger(count) || count < 0) throw defect(where, `${count} is no count of rows`, 'count them');
  if (!rows.some((row) => row.number === templateRow)) {
    throw defect(where, `the template has no row ${templateRow}`, 'lay the template row out');
  }
  const below = rows.find((row) => row.number > templateRow && row.cells.length > 0);
  if (below !== undefined) {
    throw defect(where, `row ${below.number} of the template lies below the row that grows`, 'put nothing below it');
  }
  if (templateRow + count - 1 > SHEET_LIMITS.rows) {
    const what = `${count} rows from row ${templateRow} on do not fit: a sheet ends at row ${SHEET_LIMITS.rows}`;
    throw unwritable(sheet, 0, SHEET_LIMITS.rows, what, 'split the rows over several workbooks');
  }
  return rows.filter((row) => row.number < templateRow);
}

/** The area in use, from A1 or the first cell to the last. */
function extent(kept: readonly SheetRow[], fill: SheetFill | undefined, width: number): string {
  const inUse = kept.filter((row) => row.cells.length > 0);
  const columns = [...new Set(inUse.flatMap((row) => row.cells.map((cell) => cell.column)))];
  const grows = fill !== undefined && fill.count > 0;
  if (!grows && inUse.length === 0) return 'A1';
  const top = inUse[0]?.number ?? fill?.templateRow ?? 1;
  const bottom = grows ? fill.templateRow + fill.count - 1 : (inUse.at(-1)?.number ?? top);
  const left = grows ? 0 : Math.min(...columns);
  const right = grows ? width - 1 : Math.max(...columns);
  return `${columnLetters(left)}${top}:${columnLetters(Math.max(right, left))}${bottom}`;
}
