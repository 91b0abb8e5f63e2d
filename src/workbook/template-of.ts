import { createRequire } from 'node:module';
import type { Workbook } from 'exceljs';

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

/** What exceljs makes of a workbook, every character whole. */
export async function templateOf(book: Workbook): Promise<Uint8Array> {
  return new Uint8Array(await book.xlsx.writeBuffer());
}
