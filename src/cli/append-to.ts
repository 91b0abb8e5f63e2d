import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { limitSetOfBook, limitsOfBook } from './limits-of-book.js';
import { usage } from './parse-command.js';
import { isSameFile } from './refuse-own-input.js';

/** A workbook that inspections are added to. */
export interface AppendTo {
  readonly bytes: Uint8Array;
  readonly name: string;
  /** The limit set to evaluate all with: the one asked for, else that of the workbook. */
  readonly limits: string | undefined;
}

/**
 * Opens the workbook that inspections are to be added to, and sees to it that writing anew loses nothing that was typed: numbers
 * that were changed on its sheet Limits, and sheets that are not the program's, which stay only if another file is written.
 *
 * @param limits what `--limits` says
 * @param output what is to be written
 * @throws TreadlebookError `input_missing`, `input_unreadable`, `limit_set_unknown`, `usage`, `output_exists`
 */
export async function openAppendTo(path: string, limits: string | undefined, output: string | null): Promise<AppendTo> {
  const name = basename(path);
  const bytes = await bytesOf(path);
  const book = await limitsOfBook(bytes, name);
  if (book === null) throw new TreadlebookError({ code: 'input_unreadable', where: name, what: 'it is no evaluated workbook, so nothing can be added to it', mend: 'name several INPUT files to evaluate tables together' });
  const [{ planOf }, { limitSetIds }, { foreignSheets }] = await Promise.all([import('../workbook/plan-for.js'), import('../limits/load-limit-set.js'), import('../workbook/foreign-sheets.js')]);
  const set = limits ?? limitSetOfBook(book, name, limitSetIds());
  if (limits === undefined) {
    const { size } = await book.changed(planOf(set));
    if (size > 0) throw usage('evaluate', `${size} ${size === 1 ? 'number' : 'numbers'} on the sheet Limits of ${name} ${size === 1 ? 'was' : 'were'} changed, and the workbook is written anew from the limit set`, `put what was changed into a limit set of your own, or take the set as it is with --limits ${set}`);
  }
  const foreign = output !== null && isSameFile(path, output) ? await foreignSheets(bytes, name) : [];
  if (foreign.length > 0) {
    throw new TreadlebookError({ code: 'output_exists', where: path, what: `${foreign.length === 1 ? `the sheet ${foreign[0]} is` : `the sheets ${foreign.join(', ')} are`} not the program's and would be lost`, mend: 'write to another file' });
  }
  return { bytes, name, limits: set };
}

async function bytesOf(path: string): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (cause) {
    const missing = (cause as NodeJS.ErrnoException).code === 'ENOENT';
    throw new TreadlebookError({ code: missing ? 'input_missing' : 'input_unreadable', where: path, what: missing ? 'there is no such file' : `it cannot be opened (${(cause as NodeJS.ErrnoException).code ?? 'unknown fault'})`, mend: missing ? 'check the path' : 'check that you may read it', cause });
  }
}
