import { writeFileAtomically } from '../util/write-file-atomically.js';
import type { Progress } from './progress.js';

/** Writes an output file, and shows how far it has come. */
export async function writeOutput(path: string, chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>, force: boolean, progress: Progress): Promise<void> {
  try {
    await writeFileAtomically(path, progress.writing(path, chunks), force);
  } finally {
    progress.clear();
  }
}
