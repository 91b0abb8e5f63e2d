import type { Terminal } from './terminal.js';

/** At most one line in so many milliseconds: more cannot be read, and a slow connection would wait for them. */
const EVERY_MS = 100;
/** Wipes the line that the cursor stands in. */
export const WIPE_LINE = '\r\u001b[K';

/** What a run shows of itself on a terminal, in a line that overwrites itself. */
export interface Progress {
  /** Takes note of how much of a file has been read. */
  readonly onRead: (bytes: number, size: number) => void;
  /** Shows how many inspections have been read. */
  readonly onProgress: (inspections: number) => void;
  /** Passes the chunks of an output on, and shows how much has been made. */
  readonly writing: (name: string, chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>) => AsyncIterable<Uint8Array | string>;
  /** Wipes the line. */
  readonly clear: () => void;
}

/** Progress on a terminal; nothing is shown where nobody watches. */
export function progressOn(terminal: Terminal): Progress {
  const watched = terminal.err.isTTY === true && !terminal.quiet && !process.env['CI'] && process.env['TERM'] !== 'dumb';
  const begin = performance.now();
  let [shownAt, share] = [-Infinity, 0];
  const show = (line: () => string): void => {
    const now = performance.now();
    if (!watched || now - shownAt < EVERY_MS) return;
    shownAt = now;
    terminal.err.write(`${WIPE_LINE}${line()}`);
  };
  return {
    onRead: (bytes, size) => (share = size > 0 ? bytes / size : 0),
    onProgress: (inspections) => show(() => readingLine(inspections, share, (performance.now() - begin) / 1000)),
    writing: async function* (name, chunks) {
      let length = 0;
      shownAt = -Infinity;
      for await (const chunk of chunks) {
        length += chunk.length;
        show(() => `Writing ${name}: ${(length / 1e6).toFixed(1)} MB`);
        yield chunk;
      }
    },
    clear: () => {
      if (shownAt > -Infinity) terminal.err.write(WIPE_LINE);
      shownAt = -Infinity;
    },
  };
}

/**
 * A line that says how far the reading has come.
 *
 * @param share how much of the file has been read, 0 to 1; 0 where its size is not known
 * @param elapsed seconds since the begin
 * @example readingLine(12000, 0.4, 5.2) // '12,000 inspections, about 40 % read, 8 s of reading to go'
 */
export function readingLine(inspections: number, share: number, elapsed: number): string {
  const count = `${String(inspections).replace(/\B(?=(\d{3})+$)/g, ',')} inspections`;
  if (!(share > 0 && share < 1)) return count;
  return `${count}, about ${Math.round(share * 100)} % read, ${durationText((elapsed * (1 - share)) / share)} of reading to go`;
}

function durationText(seconds: number): string {
  return seconds < 90 ? `${Math.max(1, Math.round(seconds))} s` : `${Math.round(seconds / 60)} min`;
}
