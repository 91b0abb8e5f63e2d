/**
 * What spellings of one unit number have in common: `T-7`, `T07` and `t 7` are all `t7`.
 *
 * @example unitKey('T-07') // 't7'
 */
export function unitKey(unit: string): string {
  return unit
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '')
    .replace(/(^|\D)0+(?=\d)/gu, '$1');
}
