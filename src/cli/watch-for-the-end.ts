import { writeSync } from 'node:fs';
import { discardParts } from '../util/part-files.js';
import { EXIT, INTERRUPTS } from './exit-codes.js';
import { WIPE_LINE } from './progress.js';
import { isPrinting } from './terminal.js';

/** Ends the program in order when it is told to stop, and when something breaks that nobody caught: no part of a file stays, and what became of the outputs is said. */
export function watchForTheEnd(): void {
  for (const [signal, code] of Object.entries(INTERRUPTS)) {
    process.once(signal, () => end(code, `interrupted; ${outcome(discardParts())}`));
  }
  process.on('uncaughtException', (error: unknown) => {
    const written = discardParts();
    end(EXIT.defect, `${defectWords(error)}; ${outcome(written)}`);
  });
}

/** A defect of ours in words. */
export function defectWords(error: unknown): string {
  const what = (error instanceof Error ? error.message : String(error)).replace(/\s+/g, ' ').slice(0, 300);
  return `a defect of ours: ${what}; please report it with the command and, if you may, the file`;
}

function outcome(written: readonly string[]): string {
  const said = written.length > 0 ? `${written.join(', ')} was written and is whole` : null;
  const printed = isPrinting() ? 'what was printed is not whole' : null;
  return [said, printed].filter((words) => words !== null).join('; ') || 'nothing was written';
}

function end(code: number, message: string): never {
  try {
    writeSync(2, `${process.stderr.isTTY && process.env['TERM'] !== 'dumb' ? WIPE_LINE : ''}treadlebook: ${message}\n`);
  } catch {
    // Nobody listens.
  }
  process.exit(code);
}
