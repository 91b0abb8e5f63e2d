/** A format that is neither a workbook nor a table in text, and what to do about it. */
export interface OtherFormat {
  readonly what: string;
  readonly mend: string;
}

const SAVE_AS_XLSX = 'open it in a spreadsheet program and save it as .xlsx';
const TYPE_IN = 'a picture holds no cells; type the readings into a blank workbook (`treadlebook blank`)';
const UNPACK = 'unpack it and name the file inside';

/** Formats by their first bytes, in hexadecimal; two dots stand for any byte. */
const SIGNATURES: readonly (readonly [start: RegExp, what: string, mend: string])[] = [
  [/^255044462d/, 'the file is a PDF', 'export the table as .xlsx or .csv'],
  [/^7b5c727466/, 'the file is a text document (.rtf)', 'copy its table into a spreadsheet and save that as .xlsx'],
  // A BOF record without the container around it, versions 2 to 8 ([MS-XLS] 2.4.21; OpenOffice.org's Documentation of the Excel File Format, 5.8).
  [/^09000400/, 'the file is an old binary workbook (.xls)', SAVE_AS_XLSX],
  [/^09020600/, 'the file is an old binary workbook (.xls)', SAVE_AS_XLSX],
  [/^09040600/, 'the file is an old binary workbook (.xls)', SAVE_AS_XLSX],
  [/^0908..00000[56]/, 'the file is an old binary workbook (.xls)', SAVE_AS_XLSX],
  [/^1f8b/, 'the file is compressed (gzip)', UNPACK],
  [/^425a683[1-9]314159265359/, 'the file is compressed (bzip2)', UNPACK],
  [/^fd377a585a00/, 'the file is compressed (xz)', UNPACK],
  [/^377abcaf271c/, 'the file is an archive (7z)', UNPACK],
  [/^526172211a07/, 'the file is an archive (rar)', UNPACK],
  [/^89504e470d0a1a0a/, 'the file is a picture (PNG)', TYPE_IN],
  [/^ffd8ff/, 'the file is a picture (JPEG)', TYPE_IN],
  [/^474946383[79]61/, 'the file is a picture (GIF)', TYPE_IN],
  [/^49492a00/, 'the file is a picture (TIFF)', TYPE_IN],
  [/^4d4d002a/, 'the file is a picture (TIFF)', TYPE_IN],
  [/^52494646........57454250/, 'the file is a picture (WebP)', TYPE_IN],
  [/^........66747970(?:68656963|68656978|6d696631|61766966)/, 'the file is a picture (HEIC or AVIF)', TYPE_IN],
  [/^424d........00000000/, 'the file is a picture (BMP)', TYPE_IN],
  [/^53514c69746520666f726d6174203300/, 'the file is a database (SQLite)', 'export the table as .csv'],
];

/**
 * What a file is by its first bytes, if it is one of the things that people take for a table; null for everything else.
 *
 * @example otherFormat(Buffer.from('%PDF-1.7')).what // 'the file is a PDF'
 */
export function otherFormat(bytes: Uint8Array): OtherFormat | null {
  const hex = Buffer.from(bytes.subarray(0, 16)).toString('hex');
  for (const [start, what, mend] of SIGNATURES) if (start.test(hex)) return { what, mend };
  const head = Buffer.from(bytes.subarray(0, 2048)).toString('latin1').replaceAll('\0', '').replace(/^(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)/, '').trimStart();
  if (/^<\?xml/i.test(head) && /progid="Excel\.Sheet"|urn:schemas-microsoft-com:office:spreadsheet/.test(head)) {
    return { what: 'the file is an XML spreadsheet of 2003', mend: SAVE_AS_XLSX };
  }
  if (/^<\?xml/i.test(head) && head.includes('urn:oasis:names:tc:opendocument')) return { what: 'the file is an OpenDocument file without a zip around it (.fods)', mend: SAVE_AS_XLSX };
  if (/^(?:<!doctype html|<html|<head|<meta|<table|<!--|mime-version:)/i.test(head)) {
    return { what: "the file is a web page saved under another format's name", mend: SAVE_AS_XLSX };
  }
  return null;
}
