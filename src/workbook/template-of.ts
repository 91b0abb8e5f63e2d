import { createRequire } from 'node:module';
import type { Cell, CellValue, Workbook } from 'exceljs';
import { escapeCellText } from '../formats/xlsx-package/cell-text.js';
import { cutCellText } from '../util/cut-cell-text.js';

interface ZipWriter {
  append(this: ZipWriter, data: string | Uint8Array, options: { readonly name?: string; readonly base64?: boolean }): void;
}

// The zip library under exceljs encodes a text in blocks of 16,384 units and cuts a character of two units between two of
// them, which is then lost. Bytes it leaves alone.
const { ZipWriter: writer } = createRequire(import.meta.url)('exceljs/lib/utils/zip-stream.js') as { readonly ZipWriter: { readonly prototype: ZipWriter } };
const { append } = writer.prototype;
writer.prototype.append = function (data, options) {
  append.call(this, typeof data === 'string' && options.base64 !== true ? Buffer.from(data, 'utf8') : data, options);
};

/**
 * What exceljs makes of a workbook, every character whole. Texts of cells may come from outside: one that is longer than a cell may
 * hold is cut, and characters that XML cannot carry, which exceljs drops, are escaped.
 */
export async function templateOf(book: Workbook): Promise<Uint8Array> {
  for (const sheet of book.worksheets) sheet.eachRow((row) => row.eachCell((cell) => writeSafely(cell)));
  return new Uint8Array(await book.xlsx.writeBuffer());
}

function writeSafely(cell: Cell): void {
  if (cell.isMerged && cell.master !== cell) return;
  const { value } = cell;
  if (typeof value === 'string') {
    const safe = safely(value);
    if (safe !== value) cell.value = safe;
  } else if (value !== null && typeof value === 'object' && 'result' in value && typeof value.result === 'string') {
    const safe = safely(value.result);
    if (safe !== value.result) cell.value = { ...value, result: safe } as CellValue;
  }
}

/** DEL, which XML could carry, is escaped as well: exceljs drops it. */
function safely(text: string): string {
  return escapeCellText(cutCellText(text)).replaceAll('\u007f', '_x007F_');
}
