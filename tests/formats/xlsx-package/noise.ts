/** Bytes that do not repeat, the same for the same seed: a linear congruential generator, of which the high byte is taken. */
export function noise(length: number, seed = 1): Buffer {
  let state = seed >>> 0;
  const bytes = Buffer.alloc(length);
  for (let index = 0; index < length; index++) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    bytes[index] = state >>> 24;
  }
  return bytes;
}
