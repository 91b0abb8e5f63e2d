import { writeSync } from 'node:fs';
import { discardParts } from '../util/part-files.js';
import { WIPE_LINE } from './progress.js';
import { isPrinting } from './terminal.js';
import { unexpectedFault } from './unexpected-fault.js';

/** Shells give 128 and the signal's number as the exit code: 130, 143, 129. */
const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Ends the program in order when it is told to stop, and when something breaks that nobody caught: no part of a file stays, and what became of the outputs is said. */
export function watchForTheEnd(): void {
  for (const signal of SIGNALS) {
    process.once(signal, () => {
      sayLast(`interrupted; ${outcome(discardParts())}`);
      // Nothing of ours listens any more, so the signal ends the program, even one that waits for a pipe to be opened.
      process.kill(process.pid, signal);
    });
  }
  process.on('uncaughtException', (error: unknown) => {
    const written = discardParts();
    const { words, code } = unexpectedFault(error);
    sayLast(`${words}; ${outcome(written)}`);
    process.exit(code);
  });
}

function outcome(written: readonly string[]): string {
  const said = written.length > 0 ? `${written.join(', ')} was written and is whole` : null;
  const printed = isPrinting() ? 'what was printed is not whole' : null;
  return [said, printed].filter((words) => words !== null).join('; ') || 'nothing was written';
}

function sayLast(message: string): void {
  try {
    writeSync(2, `${process.stderr.isTTY && process.env['TERM'] !== 'dumb' ? WIPE_LINE : ''}treadlebook: ${message}\n`);
  } catch {
    // Nobody listens.
  }
}
