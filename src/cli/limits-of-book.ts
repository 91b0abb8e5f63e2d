import type { InputCaps } from '../formats/input-caps.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { BookLimits } from '../workbook/book-limits.js';

/** What an evaluated workbook says of its limits; null for any other input. */
export async function limitsOfBook(bytes: Uint8Array, name: string, caps?: InputCaps): Promise<BookLimits | null> {
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  return isZip ? (await import('../workbook/book-limits.js')).bookLimits(bytes, name, caps) : null;
}

/**
 * The limit set of an evaluated workbook, so that what is made from it says what the workbook says. A text from a workbook must
 * not open a file.
 *
 * @param shipped the limit sets that ship with the program
 * @throws TreadlebookError `limit_set_unknown` for a set that does not
 */
export function limitSetOfBook(book: BookLimits | null, name: string, shipped: readonly string[]): string | undefined {
  if (book === null || book.limitSet.split(',').every((id) => shipped.includes(id))) return book?.limitSet;
  throw new TreadlebookError({ code: 'limit_set_unknown', where: name, what: `the workbook was made with the limit set ${JSON.stringify(book.limitSet.slice(0, 60))}, which does not ship with the program`, mend: 'name its file with --limits' });
}
