/**
 * Pieces of bytes as one, in memory that threads share. Bytes that are whole and shared already are not copied.
 *
 * @example shareBytes([await readFile('fleet.xlsx')])
 */
export function shareBytes(pieces: readonly Uint8Array[]): Uint8Array {
  const [only] = pieces;
  if (pieces.length === 1 && only!.buffer instanceof SharedArrayBuffer) return only!;
  const bytes = new Uint8Array(new SharedArrayBuffer(pieces.reduce((sum, piece) => sum + piece.length, 0)));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}
