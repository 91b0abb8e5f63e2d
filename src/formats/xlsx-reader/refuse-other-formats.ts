import { TreadlebookError } from '../../util/treadlebook-error.js';
import { otherFormat } from '../other-format.js';
import { unreadable } from './unreadable.js';

const OLE = [0xd0, 0xcf, 0x11, 0xe0];
const ZIP = [0x50, 0x4b];

/**
 * Refuses, by its first bytes, a file that is no zip, and says what it is instead: empty, an old or a
 * password-protected workbook, or what {@link otherFormat} knows.
 *
 * @throws TreadlebookError `input_empty` or `input_unreadable`
 */
export function refuseOtherFormats(bytes: Uint8Array, name: string): void {
  if (bytes.length === 0) {
    throw new TreadlebookError({ code: 'input_empty', where: name, what: 'the file is empty', mend: 'export it again' });
  }
  if (startsWith(bytes, ZIP)) return;
  if (startsWith(bytes, OLE)) throw refuseOle(bytes, name);
  const other = otherFormat(bytes);
  if (other) throw unreadable(name, other.what, other.mend);
  throw unreadable(name, 'the file is not a workbook', 'name it .csv if it is CSV text; otherwise save it as .xlsx');
}

function refuseOle(bytes: Uint8Array, name: string): TreadlebookError {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (buffer.includes(Buffer.from('EncryptedPackage', 'utf16le'))) {
    return unreadable(name, 'the workbook is encrypted with a password', 'open it in a spreadsheet program and save it without one');
  }
  return unreadable(name, 'the file is an old binary workbook (.xls) or an encrypted one', 'save it as .xlsx without a password');
}

function startsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return start.every((byte, index) => bytes[index] === byte);
}
