import type { Relationship } from './relationships.js';
import type { WorkbookPart } from './workbook-part.js';

/** What a reader of the workbook should know: macros, links to the outside, sheets that do not show. Plain sentences. */
export function describePackage(partNames: readonly string[], links: readonly Relationship[], workbook: WorkbookPart): string[] {
  const findings: string[] = [];
  const count = (pattern: RegExp): number => partNames.filter((part) => pattern.test(part)).length;
  if (count(/(?:^|\/)vbaProject\.bin$/i) > 0) findings.push('The workbook holds macros; they were not run.');
  if (links.some((link) => /^xl(?:Intl)?Macrosheet$/i.test(link.type))) findings.push('The workbook holds macro sheets; they were not run and not read.');
  const outside = count(/(?:^|\/)externalLinks\/[^/]+\.(?:xml|bin)$/i);
  if (outside > 0) findings.push(`The workbook has ${outside === 1 ? 'a link' : `${outside} links`} to other files; nothing was fetched.`);
  if (count(/(?:^|\/)connections\.(?:xml|bin)$/i) > 0) findings.push('The workbook has data connections; nothing was fetched.');
  if (count(/(?:^|\/)(?:embeddings|activeX)\/[^/]+$/i) > 0) findings.push('The workbook holds embedded objects; they were not opened.');
  for (const { name, state } of workbook.sheets) {
    if (state === 'hidden') findings.push(`The sheet ${name} is hidden.`);
    if (state === 'veryHidden') findings.push(`The sheet ${name} is hidden so that only a program can show it.`);
  }
  return findings;
}
