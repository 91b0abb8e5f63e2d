/** Whether every number is finite and not below zero, as what was measured must be. */
export function isMeasured(...values: readonly number[]): boolean {
  return values.every((value) => Number.isFinite(value) && value >= 0);
}
