/** Where readings come from: a path, the bytes, or a stream of them. */
export type ReadingsInput = string | Uint8Array | AsyncIterable<Uint8Array>;
