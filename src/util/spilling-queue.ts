import { closeSync, openSync, readSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { outputUnwritable } from './output-unwritable.js';
import { discardPart, openPart } from './part-files.js';

/** Bytes that are read back at a time. */
const BLOCK = 1 << 16;

interface Spill {
  readonly path: string;
  readonly writing: number;
  readonly reading: number;
  written: number;
  taken: number;
}

/**
 * Texts that wait to be taken: some in memory, what is beyond that in a file among the temporary ones, so that whoever makes
 * them need not wait and memory stays small. They come out in their order.
 */
export class SpillingQueue {
  private readonly waiting: (string | Uint8Array)[] = [];
  private length = 0;
  private spill: Spill | null = null;
  private state: 'open' | 'ended' | Error = 'open';
  private wake: () => void = () => undefined;

  /** @param most length of the texts that wait in memory */
  constructor(private readonly most: number) {}

  /** @throws TreadlebookError `output_unwritable` where the temporary file cannot be written */
  push(text: string | Uint8Array): void {
    if ((this.spill === null || this.spill.taken === this.spill.written) && this.length + text.length <= this.most) {
      this.waiting.push(text);
      this.length += text.length;
    } else {
      this.write(typeof text === 'string' ? Buffer.from(text) : text);
    }
    this.wake();
  }

  /** Nothing more comes; with an error, whoever takes the texts gets it after the last. */
  end(error?: Error): void {
    this.state = error ?? 'ended';
    this.wake();
  }

  /** The texts, to be taken once; those that were in the file as bytes. Ends after `end`. */
  async *pieces(): AsyncGenerator<string | Uint8Array> {
    try {
      for (;;) {
        const text = this.waiting.shift();
        if (text !== undefined) {
          this.length -= text.length;
          yield text;
        } else if (this.spill !== null && this.spill.taken < this.spill.written) {
          yield this.read(this.spill);
        } else if (this.state === 'open') {
          await new Promise<void>((resolve) => (this.wake = resolve));
        } else if (this.state === 'ended') {
          return;
        } else {
          throw this.state;
        }
      }
    } finally {
      this.close();
    }
  }

  /** Removes the file, if there is one. */
  close(): void {
    if (this.spill === null) return;
    closeSync(this.spill.writing);
    closeSync(this.spill.reading);
    discardPart(this.spill.path);
    this.spill = null;
  }

  private write(bytes: Uint8Array): void {
    try {
      this.spill ??= openSpill();
      for (let at = 0; at < bytes.length; ) at += writeSync(this.spill.writing, bytes, at);
    } catch (cause) {
      throw outputUnwritable('a temporary file', cause);
    }
    this.spill.written += bytes.length;
  }

  private read(spill: Spill): Uint8Array {
    const block = Buffer.alloc(Math.min(BLOCK, spill.written - spill.taken));
    const length = readSync(spill.reading, block, 0, block.length, spill.taken);
    spill.taken += length;
    return block.subarray(0, length);
  }
}

function openSpill(): Spill {
  const { path, descriptor } = openPart(join(tmpdir(), 'treadlebook'));
  return { path, writing: descriptor, reading: openSync(path, 'r'), written: 0, taken: 0 };
}
