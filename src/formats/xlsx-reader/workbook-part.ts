import { decodeXmlEscapes } from './decode-xml-escapes.js';
import { unreadable } from './unreadable.js';
import { raiseCap } from '../input-caps.js';
import type { XlsxCaps } from '../input-caps.js';
import { prefixedAttribute, readShortPart } from './xml-reader.js';
import type { ZipParts } from './zip-parts.js';

export type SheetState = 'visible' | 'hidden' | 'veryHidden';

/** What the workbook part itself says. */
export interface WorkbookPart {
  readonly date1904: boolean;
  /** In the order of the tabs. */
  readonly sheets: readonly { readonly name: string; readonly state: SheetState; readonly relationship: string }[];
  /** By name; a name that holds for one sheet only is written `Sheet!Name`. */
  readonly definedNames: ReadonlyMap<string, string>;
}

/** @throws TreadlebookError `input_unreadable` when the part is damaged or too long */
export async function readWorkbookPart(parts: ZipParts, part: string, caps: XlsxCaps): Promise<WorkbookPart> {
  const where = `${parts.fileName}, part ${part}`;
  const sheets: { name: string; state: SheetState; relationship: string }[] = [];
  const names: { name: string; sheet: string | undefined; text: string }[] = [];
  let date1904 = false;
  let inName = false;
  let root = '';
  await readShortPart(parts, part, caps, {
    open(name, attributes, parent) {
      if (parent === '') root = name;
      inName = name === 'definedName' && parent === 'definedNames';
      if (inName && names.push({ name: attributes['name'] ?? '', sheet: attributes['localSheetId'], text: '' }) > caps.names) throw unreadable(where, `there are more than ${caps.names} defined names`, raiseCap('xlsx.names', caps.names));
      if (name === 'workbookPr') date1904 = ['1', 'true', 'on'].includes(attributes['date1904'] ?? '');
      if (name === 'sheet' && parent === 'sheets') {
        sheets.push({
          name: decodeXmlEscapes(attributes['name'] ?? ''),
          state: sheetState(attributes['state']),
          relationship: prefixedAttribute(attributes, 'id') ?? '',
        });
      }
    },
    text(text) {
      const last = names.at(-1);
      if (inName && last) last.text += text;
    },
    close() {
      inName = false;
    },
  });
  if (root !== 'workbook') throw unreadable(where, `the part is not a workbook but <${root.slice(0, 60)}>`);
  const definedNames = new Map<string, string>();
  for (const { name, sheet, text } of names) {
    const scope = sheet === undefined ? undefined : sheets[Number(sheet)]?.name;
    definedNames.set(scope === undefined ? name : `${scope}!${name}`, text);
  }
  return { date1904, sheets, definedNames };
}

function sheetState(state: string | undefined): SheetState {
  return state === 'hidden' || state === 'veryHidden' ? state : 'visible';
}
