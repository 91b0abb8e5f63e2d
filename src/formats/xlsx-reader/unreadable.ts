import { TreadlebookError } from '../../util/treadlebook-error.js';

const SAVE_AGAIN = 'open it in a spreadsheet program and save it again as .xlsx';

/** The error of a workbook that cannot be read: where, what, and the mend (to save it again, if nothing better is known). */
export function unreadable(where: string, what: string, mend = SAVE_AGAIN, cause?: unknown): TreadlebookError {
  return new TreadlebookError({ code: 'input_unreadable', where, what, mend, cause });
}
