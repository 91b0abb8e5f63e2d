/**
 * A period in words.
 *
 * @param period `yyyy-mm-dd`, both inclusive; null is open
 * @example spanWords({ from: '2026-01-01', to: null }) // 'from 2026-01-01 on'
 */
export function spanWords({ from, to }: { readonly from: string | null; readonly to: string | null }): string {
  if (from === null) return to === null ? 'all inspections' : `up to ${to}`;
  return to === null ? `from ${from} on` : from === to ? from : `from ${from} to ${to}`;
}
