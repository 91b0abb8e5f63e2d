/** Odd factors of good spread, from MurmurHash3 (A. Appleby, public domain). */
const FACTORS = [0xcc9e2d51, 0x1b873593] as const;
const ROUND_UP = 2 ** 21;

const numberBits = new Float64Array(1);
const words = new Int32Array(numberBits.buffer);

/**
 * A whole number below 2^53 that stands for a list of values: the same for the same list, and for two that differ the same
 * with a chance of about one in 10^16. Not for what somebody may want to forge.
 *
 * @example fingerprint(['K-101', 104]) === fingerprint(['K-101', 104]) // true
 */
export function fingerprint(values: Iterable<string | number | boolean | null>): number {
  let [a, b] = [0x9747b28c, 0x3c6ef372];
  const mix = (word: number): void => {
    a = Math.imul((a ^ word) | 0, FACTORS[0]);
    a ^= a >>> 15;
    b = Math.imul((b + word) | 0, FACTORS[1]) + a;
    b ^= b >>> 13;
  };
  for (const value of values) {
    if (typeof value === 'string') {
      mix(value.length + 0x100);
      for (let at = 0; at < value.length; at++) mix(value.charCodeAt(at));
    } else if (typeof value === 'number') {
      numberBits[0] = value;
      mix(words[0]!);
      mix(words[1]!);
    } else mix(value === null ? 1 : value ? 2 : 3);
  }
  mix(0x5bd1e995);
  return (a >>> 0) * ROUND_UP + ((b >>> 0) & (ROUND_UP - 1));
}
