import { readFileSync } from 'node:fs';
import { packagePath } from '../../src/util/package-path.js';

/** The text of a document from a heading to the next heading of any depth. */
export function sectionOf(file: string, heading: string): string {
  const lines = readFileSync(packagePath(file), 'utf8').split('\n');
  const from = lines.findIndex((line) => line.startsWith('#') && line.replace(/^#+ /, '') === heading);
  if (from < 0) throw new Error(`${file} has no heading ${heading}`);
  let fenced = false;
  const to = lines.findIndex((line, index) => {
    if (line.startsWith('```')) fenced = !fenced;
    return index > from && !fenced && line.startsWith('#');
  });
  return lines.slice(from + 1, to < 0 ? undefined : to).join('\n');
}

/** The rows of the first table below a heading, without its header. */
export function tableOf(file: string, heading: string): string[][] {
  const rows = sectionOf(file, heading).split('\n').filter((line) => line.startsWith('|'));
  return rows.slice(2).map((line) => line.slice(1, -1).split('|').map((cell) => cell.trim()));
}

/** What stands in backquotes in a text. */
export function codeSpans(text: string): string[] {
  return [...text.matchAll(/`([^`]+)`/g)].map(([, span]) => span!);
}
