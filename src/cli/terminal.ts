import { styleText } from 'node:util';
import { plainLine } from '../util/plain-line.js';

/** Where a command writes, and whether people are watching. */
export interface Terminal {
  readonly out: NodeJS.WriteStream;
  readonly err: NodeJS.WriteStream;
  readonly quiet: boolean;
}

/** Writes pieces to standard output, waiting where the reader is slower. */
export async function writeOut(terminal: Terminal, pieces: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>): Promise<void> {
  for await (const piece of pieces) {
    if (!terminal.out.write(piece)) await new Promise<void>((resolve) => terminal.out.once('drain', resolve));
  }
}

/** Tells a person something, on standard error; nothing under --quiet. */
export function tell(terminal: Terminal, line: string): void {
  if (!terminal.quiet) terminal.err.write(`${plainLine(line)}\n`);
}

/** Bold where the stream is a terminal that wants colour. */
export function bold(stream: NodeJS.WriteStream, text: string): string {
  return stream.isTTY && stream.hasColors?.() && !process.env['NO_COLOR'] ? styleText('bold', text) : text;
}

/** A line of progress that overwrites itself, on a terminal only. */
export function progressLine(terminal: Terminal): { readonly show: (line: string) => void; readonly clear: () => void } {
  const watched = terminal.err.isTTY === true && !terminal.quiet && !process.env['CI'] && process.env['TERM'] !== 'dumb';
  let shown = false;
  return {
    show: (line) => {
      if (!watched) return;
      shown = true;
      terminal.err.write(`\r\u001b[K${line}`);
    },
    clear: () => {
      if (shown) terminal.err.write('\r\u001b[K');
    },
  };
}
