import { open, readFile } from 'node:fs/promises';

/** Where readings come from: a path, the bytes, or a stream of them. */
export type ReadingsInput = string | Uint8Array | AsyncIterable<Uint8Array>;

/** An input that can be read, and afterwards looked at again if it is a workbook. */
export interface KeptInput {
  readonly input: ReadingsInput;
  /** The bytes, once the input was read to its end; null for what is no workbook. */
  bytes(): Promise<Uint8Array | null>;
}

/** Keeps the bytes of a workbook; those of a table, which may be long, are not kept. */
export function keepWorkbook(input: ReadingsInput): KeptInput {
  if (typeof input === 'string') return { input, bytes: () => bytesOfFile(input) };
  if (input instanceof Uint8Array) return { input, bytes: async () => (isZip(input) ? input : null) };
  const kept: Uint8Array[] = [];
  let head = new Uint8Array();
  const passedOn = async function* (): AsyncGenerator<Uint8Array> {
    for await (const chunk of input) {
      if (head.length < ZIP_MARK.length) head = new Uint8Array(Buffer.concat([head, chunk]));
      if (head.length < ZIP_MARK.length || isZip(head)) kept.push(chunk);
      yield chunk;
    }
  };
  return { input: passedOn(), bytes: async () => (isZip(head) ? new Uint8Array(Buffer.concat(kept)) : null) };
}

/** The first bytes of every zip, `PK`. */
const ZIP_MARK = [0x50, 0x4b] as const;

function isZip(bytes: Uint8Array): boolean {
  return ZIP_MARK.every((byte, index) => bytes[index] === byte);
}

async function bytesOfFile(path: string): Promise<Uint8Array | null> {
  try {
    const file = await open(path, 'r');
    const head = new Uint8Array(ZIP_MARK.length);
    await file.read(head, 0, head.length, 0);
    await file.close();
    return isZip(head) ? await readFile(path) : null;
  } catch {
    return null; // It was read a moment ago; what it says of itself only adds a note.
  }
}
