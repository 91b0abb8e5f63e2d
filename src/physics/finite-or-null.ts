/** The number, or null where it is none: an answer is never NaN or infinite. */
export function finiteOrNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
