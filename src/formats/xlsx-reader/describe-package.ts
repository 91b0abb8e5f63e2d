import { TreadlebookError } from '../../util/treadlebook-error.js';
import type { XlsxCaps } from '../input-caps.js';
import type { Relationship } from './relationships.js';
import type { WorkbookPart } from './workbook-part.js';
import type { XlsxFinding } from './xlsx-finding.js';
import { readShortPart } from './xml-reader.js';
import type { ZipParts } from './zip-parts.js';

const OUTSIDE_LINK = /(?:^|\/)externalLinks\/[^/]+\.(?:xml|bin)$/i;
/** So many links to the outside are looked into. */
const MOST_LINKS = 20;

/** What a reader of the workbook should know: macros, links to the outside, sheets that do not show. */
export async function describePackage(parts: ZipParts, links: readonly Relationship[], workbook: WorkbookPart, caps: XlsxCaps): Promise<XlsxFinding[]> {
  const findings: XlsxFinding[] = [];
  const outsideOf = (text: string): number => findings.push({ kind: 'outside', sheet: '', cell: '', text });
  const named = (pattern: RegExp): string[] => parts.names().filter((part) => pattern.test(part));
  if (named(/(?:^|\/)vbaProject\.bin$/i).length > 0) outsideOf('The workbook holds macros; they were not run.');
  if (links.some((link) => /^xl(?:Intl)?Macrosheet$/i.test(link.type))) outsideOf('The workbook holds macro sheets; they were not run and not read.');
  const outside = named(OUTSIDE_LINK);
  if (outside.length > 0) outsideOf(`The workbook has ${outside.length === 1 ? 'a link' : `${outside.length} links`} to other files; nothing was fetched.`);
  for (const part of outside.slice(0, MOST_LINKS)) {
    const program = /\.xml$/i.test(part) ? await programExchangedWith(parts, part, caps) : null;
    if (program !== null) outsideOf(`The workbook exchanges data with the program ${JSON.stringify(program.slice(0, 60))} (DDE); nothing was started.`);
  }
  if (named(/(?:^|\/)connections\.(?:xml|bin)$/i).length > 0) outsideOf('The workbook has data connections; nothing was fetched.');
  if (named(/(?:^|\/)(?:embeddings|activeX)\/[^/]+$/i).length > 0) outsideOf('The workbook holds embedded objects; they were not opened.');
  for (const { name, state } of workbook.sheets) {
    if (state === 'hidden') findings.push({ kind: 'hidden sheet', sheet: name, cell: '', text: `The sheet ${name} is hidden.` });
    if (state === 'veryHidden') findings.push({ kind: 'hidden sheet', sheet: name, cell: '', text: `The sheet ${name} is hidden so that only a program can show it.` });
  }
  return findings;
}

/** The program that a link by dynamic data exchange names (ECMA-376 Part 1, 18.14.4, ddeLink); null for a link to a file, and for a damaged one. */
async function programExchangedWith(parts: ZipParts, part: string, caps: XlsxCaps): Promise<string | null> {
  let program: string | null = null;
  try {
    await readShortPart(parts, part, caps, {
      open(name, attributes, parent) {
        if (name === 'ddeLink' && parent === 'externalLink') program = attributes['ddeService'] ?? '';
      },
    });
  } catch (error) {
    if (!(error instanceof TreadlebookError)) throw error;
  }
  return program;
}
