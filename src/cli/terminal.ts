import { styleText } from 'node:util';
import { outputUnwritable } from '../util/output-unwritable.js';
import { plainLine } from '../util/plain-line.js';

/** Where a command writes, and whether people are watching. */
export interface Terminal {
  readonly out: NodeJS.WriteStream;
  readonly err: NodeJS.WriteStream;
  readonly quiet: boolean;
}

let printing = false;

/** Whether something is being printed on standard output that is not whole yet. */
export function isPrinting(): boolean {
  return printing;
}

/**
 * Writes pieces to standard output, waiting where the reader is slower. A reader that stops has what it wanted: the rest
 * is left out.
 *
 * @throws TreadlebookError `output_unwritable`
 */
export async function writeOut(terminal: Terminal, pieces: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>): Promise<void> {
  for await (const piece of pieces) {
    printing = true;
    const fault = await new Promise<Error | null | undefined>((resolve) => terminal.out.write(piece, resolve));
    if ((fault as NodeJS.ErrnoException | null | undefined)?.code === 'EPIPE') break;
    if (fault) throw outputUnwritable('standard output', fault);
  }
  printing = false;
}

/** Tells a person something, on standard error; nothing under --quiet. */
export function tell(terminal: Terminal, line: string): void {
  if (!terminal.quiet) terminal.err.write(`${plainLine(line)}\n`);
}

/** Bold where the stream is a terminal that wants colour. */
export function bold(stream: NodeJS.WriteStream, text: string): string {
  return stream.isTTY && stream.hasColors?.() && !process.env['NO_COLOR'] ? styleText('bold', text) : text;
}
