/**
 * A share cut after its hundredths of a per cent, so that it is never rounded up to all.
 *
 * @example cutShare(0.99996) // 0.9999
 */
export function cutShare(share: number): number {
  return Math.floor(share * 10_000 + 1e-9) / 10_000;
}

/**
 * A share in per cent, never rounded up to all.
 *
 * @example shareText(0.99996) // '99.99 %'
 */
export function shareText(share: number): string {
  return `${(cutShare(share) * 100).toFixed(2)} %`;
}

/**
 * A number with its noun.
 *
 * @example counted(1, 'cell') // '1 cell'
 */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** What a comparison came to, in one sentence or two. */
export function verdictWords({ differences, missing, extra, agreement }: { readonly differences: readonly unknown[]; readonly missing: readonly unknown[]; readonly extra: readonly unknown[]; readonly agreement: number | null }): string {
  const share = agreement === null ? '' : ` ${shareText(agreement)} of the cells agree.`;
  if (differences.length + missing.length + extra.length === 0) return `The two keyings are the same.${share}`;
  return `${counted(differences.length, 'cell')} ${differences.length === 1 ? 'differs' : 'differ'}; ${counted(missing.length, 'inspection')} in A only, ${extra.length} in B only.${share}`;
}
