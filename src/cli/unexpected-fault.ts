import { EXIT } from './exit-codes.js';

/** What is said of a fault that no part of the program expected, and the exit code. */
export function unexpectedFault(error: unknown): { readonly words: string; readonly code: number } {
  if (['EMFILE', 'ENFILE'].includes((error as NodeJS.ErrnoException | null)?.code ?? '')) return { words: 'too many files are open; close some programs', code: EXIT.input };
  const what = (error instanceof Error ? error.message : String(error)).replace(/\s+/g, ' ').slice(0, 300);
  return { words: `a defect of ours: ${what}; please report it with the command and, if you may, the file`, code: EXIT.defect };
}
