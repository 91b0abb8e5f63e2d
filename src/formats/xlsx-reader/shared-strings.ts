import { TextRuns } from './text-runs.js';
import { unreadable } from './unreadable.js';
import { raiseCap } from '../input-caps.js';
import type { XlsxCaps } from '../input-caps.js';
import { XmlReader } from './xml-reader.js';
import type { XmlHandlers } from './xml-reader.js';
import type { ZipParts } from './zip-parts.js';

/**
 * The shared strings of a workbook, in order: plain, or rich text joined, phonetic runs left out.
 *
 * @throws TreadlebookError `input_unreadable` when the part is damaged or holds too many strings
 */
export async function readSharedStrings(parts: ZipParts, part: string, caps: XlsxCaps): Promise<string[]> {
  const strings: string[] = [];
  const where = (): string => `${parts.fileName}, part ${part}, string ${strings.length}`;
  let item: TextRuns | null = null;
  const runs = new TextRuns(caps.stringLength, where);
  const handlers: XmlHandlers = {
    open(name, _attributes, parent) {
      if (item) item.open(name);
      else if (name === 'si' && parent === 'sst') item = runs;
    },
    text(text) {
      item?.write(text);
    },
    close() {
      if (item === null || item.close()) return;
      item = null;
      if (strings.push(runs.take()) > caps.sharedStrings) throw unreadable(where(), `there are more than ${caps.sharedStrings} shared strings`, raiseCap('xlsx.sharedStrings', caps.sharedStrings));
    },
  };
  const reader = new XmlReader(handlers, caps, where);
  for await (const chunk of parts.read(part)) reader.write(chunk);
  reader.end();
  return strings;
}
