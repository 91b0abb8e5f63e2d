import { expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { newBook } from '../../src/workbook/new-book.js';
import { templateOf } from '../../src/workbook/template-of.js';

// A character beyond U+FFFF takes two units of UTF-16; JSZip encodes a text in blocks of 16,384 units.
it('keeps every character whole, wherever in the workbook it stands', async () => {
  for (const shift of [0, 1]) {
    const book = newBook();
    const sheet = book.addWorksheet('Long');
    const texts = Array.from({ length: 60 }, (_, row) => `${'x'.repeat(row === 0 ? shift : 0)}${'\u{1F69A}'.repeat(1000)}${String(row).padStart(3, '0')}`);
    texts.forEach((text, row) => (sheet.getCell(row + 1, 1).value = text));
    const read: unknown[] = [];
    for await (const { cells } of (await openXlsx(await templateOf(book))).sheets[0]!.table().rows) read.push(cells[0]);
    expect(read).toStrictEqual(texts);
  }
});
