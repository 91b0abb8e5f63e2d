import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { otherFormat } from '../../src/formats/other-format.js';
import { openReadings } from '../../src/workbook/open-readings.js';

const hex = (text: string): Buffer => Buffer.from(text.replaceAll(' ', ''), 'hex');

// First bytes as the formats' own specifications give them: PNG (W3C) 5.2, JFIF 1.02, GIF89a, TIFF 6.0, RFC 9649 (WebP), ISO/IEC 14496-12 (ftyp),
// RFC 1952 (gzip), ISO 32000-1 7.5.2 (PDF), RTF 1.9.1, [MS-XLS] 2.4.21 (BOF), SQLite "Database File Format" 1.3.
const FILES: readonly [what: string, bytes: Uint8Array][] = [
  ['the file is a PDF', Buffer.from('%PDF-1.7\n')],
  ['the file is a text document (.rtf)', Buffer.from('{\\rtf1\\ansi unit}')],
  ['the file is an old binary workbook (.xls)', hex('0900 0400 0700 1000')],
  ['the file is an old binary workbook (.xls)', hex('0902 0600 0000 1000')],
  ['the file is an old binary workbook (.xls)', hex('0904 0600 0000 1000')],
  ['the file is an old binary workbook (.xls)', hex('0908 0800 0005 0500')],
  ['the file is an old binary workbook (.xls)', hex('0908 1000 0006 0500')],
  ['the file is compressed (gzip)', gzipSync('unit,inspected_on\n')],
  ['the file is compressed (bzip2)', hex('425a68 39 314159265359')],
  ['the file is compressed (xz)', hex('fd377a585a00 0004')],
  ['the file is an archive (7z)', hex('377abcaf271c 0004')],
  ['the file is an archive (rar)', hex('526172211a0700')],
  ['the file is a picture (PNG)', hex('89504e470d0a1a0a 0000000d')],
  ['the file is a picture (JPEG)', hex('ffd8ffe0 0010 4a464946')],
  ['the file is a picture (GIF)', Buffer.from('GIF89a')],
  ['the file is a picture (TIFF)', hex('49492a00 08000000')],
  ['the file is a picture (TIFF)', hex('4d4d002a 00000008')],
  ['the file is a picture (WebP)', Buffer.from('RIFF\x10\0\0\0WEBPVP8 ', 'latin1')],
  ['the file is a picture (HEIC or AVIF)', Buffer.from('\0\0\0\x18ftypheic', 'latin1')],
  ['the file is a picture (BMP)', hex('424d 46000000 00000000 36000000')],
  ['the file is a database (SQLite)', Buffer.from('SQLite format 3\0', 'latin1')],
  ['the file is an XML spreadsheet of 2003', Buffer.from('<?xml version="1.0"?><?mso-application progid="Excel.Sheet"?>')],
  ['the file is an OpenDocument file without a zip around it (.fods)', Buffer.from('<?xml version="1.0"?><office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0">')],
  ["the file is a web page saved under another format's name", Buffer.from('\ufeff\r\n<html><table>')],
];

it.each(FILES)('%s', async (what, bytes) => {
  expect(otherFormat(bytes)).toStrictEqual({ what, mend: expect.any(String) as string });
  for (const name of ['fleet.csv', 'fleet.xlsx', 'fleet.json', 'fleet']) await expect(openReadings(bytes, { name })).rejects.toMatchObject({ code: 'input_unreadable', where: name, what });
});

it.each(['', 'unit,inspected_on\n', 'BM,unit\n', '[{"unit":"K-1"}]', '\ufeffunit;date', '"<html>",unit\n', 'PK,unit\n'])('takes %j for none of these', (text) => {
  expect(otherFormat(Buffer.from(text))).toBeNull();
});
