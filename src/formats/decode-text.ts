import { TreadlebookError } from '../util/treadlebook-error.js';

/** How many bytes are looked at before the encoding is settled. */
const HEAD_BYTES = 65_536;

/** Windows-1252 from 0x80 to 0x9F (WHATWG Encoding, index windows-1252); the rest is Latin-1. */
const WINDOWS_1252 =
  '\u20ac\u0081\u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152\u008d\u017d\u008f' +
  '\u0090\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153\u009d\u017e\u0178';

interface Decoder {
  write(bytes: Uint8Array): string;
  end(): string;
}

/**
 * Text from bytes: UTF-8 with or without a byte-order mark, UTF-16 by its mark, and Windows-1252
 * where the bytes are not valid UTF-8. The mark is left out.
 *
 * @param name the file's name, for the error
 * @throws TreadlebookError `input_unreadable` when a mark promises an encoding that the bytes do not hold
 * @example decodeText(Uint8Array.of(0x37, 0xb0)) // '7°' (Windows-1252)
 */
export function decodeText(bytes: Uint8Array, name = 'the text'): string {
  const decoder = chooseDecoder(bytes, true, name);
  return decoder.write(bytes) + decoder.end();
}

/**
 * Text from a stream of bytes, piece by piece. The encoding is settled from the first 64 kB, as `decodeText` does it.
 *
 * @param name the file's name, for the error
 * @throws TreadlebookError `input_unreadable` when a byte that is not UTF-8 turns up after the first 64 kB
 * @example for await (const text of decodeTextStream(createReadStream('fleet.csv'))) console.log(text.length);
 */
export async function* decodeTextStream(chunks: AsyncIterable<Uint8Array>, name = 'the text'): AsyncGenerator<string> {
  let decoder: Decoder | null = null;
  let held: Uint8Array[] = [];
  let heldLength = 0;
  for await (const chunk of chunks) {
    if (decoder === null) {
      held.push(chunk);
      heldLength += chunk.length;
      if (heldLength < HEAD_BYTES) continue;
      const head = Buffer.concat(held);
      held = [];
      decoder = chooseDecoder(head, false, name);
      yield decoder.write(head);
    } else {
      yield decoder.write(chunk);
    }
  }
  if (decoder === null) {
    yield decodeText(Buffer.concat(held), name);
  } else {
    yield decoder.end();
  }
}

function chooseDecoder(head: Uint8Array, complete: boolean, name: string): Decoder {
  if (head[0] === 0xff && head[1] === 0xfe) return fatalDecoder('utf-16le', name);
  if (head[0] === 0xfe && head[1] === 0xff) return fatalDecoder('utf-16be', name);
  const marked = head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf;
  if (marked || isUtf8(head, complete)) return fatalDecoder('utf-8', name);
  return { write: decodeWindows1252, end: () => '' };
}

function isUtf8(bytes: Uint8Array, complete: boolean): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: !complete });
    return true;
  } catch {
    return false;
  }
}

function fatalDecoder(encoding: string, name: string): Decoder {
  const decoder = new TextDecoder(encoding, { fatal: true });
  const attempt = (work: () => string): string => {
    try {
      return work();
    } catch (cause) {
      throw new TreadlebookError({
        code: 'input_unreadable',
        where: name,
        what: `the text begins as ${encoding.toUpperCase()} and later holds bytes that are not`,
        mend: 'save the file as UTF-8',
        cause,
      });
    }
  };
  return {
    write: (bytes) => attempt(() => decoder.decode(bytes, { stream: true })),
    end: () => attempt(() => decoder.decode()),
  };
}

/** By a table of our own: the decoder built into some versions of Node 20 and 22 takes Windows-1252 for Latin-1. */
function decodeWindows1252(bytes: Uint8Array): string {
  const latin1 = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  return latin1.replace(/[\x80-\x9f]/g, (character) => WINDOWS_1252.charAt(character.charCodeAt(0) - 0x80));
}
