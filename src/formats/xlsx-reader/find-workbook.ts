import { readRelationships } from './relationships.js';
import type { Relationship } from './relationships.js';
import { unreadable } from './unreadable.js';
import type { XlsxCaps } from '../input-caps.js';
import type { ZipParts } from './zip-parts.js';

const USUAL_PART = 'xl/workbook.xml';

/**
 * The part that holds the workbook, and the links of the package.
 *
 * @throws TreadlebookError `input_unreadable` for a zip that holds something else, and says what
 */
export async function findWorkbook(parts: ZipParts, caps: XlsxCaps): Promise<{ part: string; packageLinks: readonly Relationship[] }> {
  const packageLinks = await readRelationships(parts, '', caps);
  const linked = packageLinks.find((link) => link.type === 'officeDocument')?.part;
  const part = linked && parts.has(linked) ? linked : USUAL_PART;
  const refuse = (what: string): Error => unreadable(parts.fileName, what, 'save it as .xlsx');
  if (/\.bin$/i.test(part) || parts.has('xl/workbook.bin')) throw refuse('the file is a binary workbook (.xlsb)');
  if (/^word\//i.test(part) || parts.has('word/document.xml')) throw unreadable(parts.fileName, 'the file is a text document', 'copy its table into a spreadsheet and save that as .xlsx');
  if (/^ppt\//i.test(part) || parts.has('ppt/presentation.xml')) throw refuse('the file is a presentation');
  if (parts.has(part)) return { part, packageLinks };
  if (parts.names().some((name) => /(?:^|\/)Index(?:\.zip$|\/.*\.iwa$)/i.test(name))) throw refuse('the file is a Numbers spreadsheet (.numbers)');
  if (parts.has('mimetype')) throw refuse(await describeOpenDocument(parts));
  const inside = parts.names().find((name) => /\.(?:csv|tsv|xlsx|xlsm|json)$/i.test(name));
  if (inside !== undefined) throw unreadable(parts.fileName, `the file is a zip that holds ${inside.slice(0, 100)}`, 'unpack it and name that file');
  throw refuse('the zip holds no workbook');
}

async function describeOpenDocument(parts: ZipParts): Promise<string> {
  let type = '';
  for await (const chunk of parts.read('mimetype')) {
    type += Buffer.from(chunk).toString('latin1');
    if (type.length > 200) break;
  }
  if (type.includes('opendocument.spreadsheet')) return 'the file is an OpenDocument spreadsheet (.ods)';
  return type.includes('opendocument') ? 'the file is an OpenDocument file, but no spreadsheet' : 'the zip holds no workbook';
}
