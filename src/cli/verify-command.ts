import { plainLine } from '../util/plain-line.js';
import type { Finding, FindingCode, Verification } from '../workbook/verify-finding.js';
import { capsOption } from './caps-option.js';
import { EXIT } from './exit-codes.js';
import { parseCommand } from './parse-command.js';
import { writeOut, type Terminal } from './terminal.js';

const OPTIONS = { limits: { type: 'string' }, json: { type: 'boolean' }, caps: { type: 'string' } } as const;

/** How many findings of one code are shown, and how much of a text. */
const SHOWN = { findings: 20, characters: 90 } as const;

/** `treadlebook verify`: recomputes an evaluated workbook and names every cell that is not as it should be. */
export async function verifyCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, words } = parseCommand('verify', args, OPTIONS, { least: 1, most: 1, what: 'the workbook' });
  const { verifyWorkbook } = await import('../workbook/verify-workbook.js');
  const { FINDINGS } = await import('../workbook/verify-finding.js');
  const verification = await verifyWorkbook(words[0]!, { limits: values['limits'] as string | undefined, caps: capsOption('verify', values['caps'] as string | undefined) });
  if (values['json'] === true) await writeOut(terminal, [`${JSON.stringify(verification)}\n`]);
  else if (!terminal.quiet) await writeOut(terminal, verificationLines(verification, FINDINGS).map((line) => `${plainLine(line)}\n`));
  return verification.findings.length > 0 ? EXIT.found : EXIT.done;
}

/** What was found, as lines of text, by code. */
export function verificationLines({ book, limit_set: set, cells_compared: cells, formulas_compared: formulas, findings }: Verification, meanings: Readonly<Record<FindingCode, string>>): string[] {
  const compared = `${formulas} formulas and ${cells} values compared, against ${set.id}`;
  if (findings.length === 0) return [`${book.name}: nothing was found. ${compared}.`];
  const byCode = new Map<FindingCode, Finding[]>();
  for (const finding of findings) byCode.set(finding.code, [...(byCode.get(finding.code) ?? []), finding]);
  const lines = [`${book.name}: ${findings.length} ${findings.length === 1 ? 'finding' : 'findings'}. ${compared}.`];
  for (const [code, list] of byCode) {
    lines.push('', `${code}: ${meanings[code]}.`, ...list.slice(0, SHOWN.findings).map(findingLine));
    if (list.length > SHOWN.findings) lines.push(`  and ${list.length - SHOWN.findings} more; --json lists them all`);
  }
  return lines;
}

function findingLine({ sheet, cell, column, found, expected, citation }: Finding): string {
  const place = `${sheet}${cell === '' ? '' : `!${cell}`}${column === '' ? '' : ` (${column})`}`;
  const from = Math.max(0, firstDifference(found, expected) - 30);
  const [there, right] = [found, expected].map((text) => cut(text, from));
  return `  ${place}: found ${there}; expected ${right}${citation === null ? '' : ` [${citation}]`}`;
}

function firstDifference(a: string, b: string): number {
  let at = 0;
  while (at < a.length && a[at] === b[at]) at += 1;
  return at;
}

/** A text, or of a long one the part around what differs. */
function cut(text: string, from: number): string {
  const line = text.replace(/[\s\p{Cc}]+/gu, ' ');
  if (line.length <= SHOWN.characters) return line;
  const start = Math.min(from, line.length - SHOWN.characters);
  return `${start > 0 ? '…' : ''}${line.slice(start, start + SHOWN.characters)}${start + SHOWN.characters < line.length ? '…' : ''}`;
}
