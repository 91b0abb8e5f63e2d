import { readFileSync } from 'node:fs';
import { packagePath } from '../../src/util/package-path.js';

/** A fenced block of a document. */
export interface FencedBlock {
  readonly file: string;
  /** The line of its fence. */
  readonly line: number;
  readonly language: string;
  /** What stands behind the language, such as a file's name. */
  readonly about: string;
  readonly text: string;
}

/** The fenced blocks of a document at the top of the repository, in order. */
export function fencedBlocks(file: string): FencedBlock[] {
  const blocks: FencedBlock[] = [];
  let open: { line: number; info: string; lines: string[] } | null = null;
  for (const [index, line] of readFileSync(packagePath(file), 'utf8').split('\n').entries()) {
    if (!line.startsWith('```')) {
      open?.lines.push(line);
    } else if (open === null) {
      open = { line: index + 1, info: line.slice(3).trim(), lines: [] };
    } else {
      const [language = '', ...about] = open.info.split(' ');
      blocks.push({ file, line: open.line, language, about: about.join(' '), text: open.lines.join('\n') });
      open = null;
    }
  }
  if (open !== null) throw new Error(`${file}: the block of line ${open.line} is not closed`);
  return blocks;
}
