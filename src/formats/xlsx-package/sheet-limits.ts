import { columnLetters } from '../../util/column-letters.js';
import { TreadlebookError } from '../../util/treadlebook-error.js';

/**
 * What a sheet can hold, as published by Microsoft, "Excel specifications and limits":
 * https://support.microsoft.com/office/excel-specifications-and-limits-1672b34d-7043-467e-8e27-269d656771c3
 */
export const SHEET_LIMITS = { rows: 1_048_576, columns: 16_384, formula: 8_192 } as const;

/** The error for something that a sheet cannot hold. `column` is 0-based, `row` 1-based. */
export function unwritable(sheet: string, column: number, row: number, what: string, mend: string): TreadlebookError {
  return new TreadlebookError({
    code: 'output_unwritable',
    where: `sheet ${sheet}, cell ${columnLetters(column)}${row}`,
    what,
    mend,
  });
}

/** The error for a template or a call that breaks the rules of the assembler: a fault of the program, not of its input. */
export function defect(where: string, what: string, mend: string, cause?: unknown): TreadlebookError {
  return new TreadlebookError({ code: 'defect', where, what, mend, cause });
}
