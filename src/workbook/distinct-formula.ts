/**
 * An array formula for a list that grows down: the next value of a range that does not stand in the cells above yet,
 * or an empty text when there is none left. It compares by `=`, for COUNTIF and MATCH would take `<5` and `K*` for
 * patterns, and `007` and `7` for one number. A value that reads as the header does is listed like any other.
 *
 * @param above the cells above in the list, from its header on, such as `$A$3:$A3`
 */
export function distinctFormula(range: string, above: string): string {
  const header = above.split(':')[0]!;
  return `IFERROR(INDEX(${range},MATCH(0,MMULT(--(${range}=TRANSPOSE(${above})),--(ROW(${above})>ROW(${header})))+(${range}=""),0)),"")`;
}
