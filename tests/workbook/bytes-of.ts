/** Gathers a stream of bytes or texts. */
export async function bytesOf(chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  for await (const chunk of chunks) pieces.push(typeof chunk === 'string' ? Buffer.from(chunk) : chunk);
  return new Uint8Array(Buffer.concat(pieces));
}

/** Gathers a stream of texts. */
export async function textOf(chunks: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>): Promise<string> {
  return Buffer.from(await bytesOf(chunks)).toString('utf8');
}
