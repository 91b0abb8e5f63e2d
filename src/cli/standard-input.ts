import { inputUnreadable } from '../util/file-chunks.js';

/**
 * The bytes of standard input.
 *
 * @throws TreadlebookError `input_unreadable`
 */
export async function* standardInput(): AsyncGenerator<Uint8Array> {
  try {
    for await (const chunk of process.stdin) yield chunk as Uint8Array;
  } catch (cause) {
    throw inputUnreadable('standard input', cause, 'read');
  }
}
