/**
 * An array formula for a list that grows down: the next value of a range that does not stand in the cells above yet,
 * or an empty text when there is none left.
 *
 * @param above the cells above in the list, from its header on, such as `$A$3:$A3`
 */
export function distinctFormula(range: string, above: string): string {
  return `IFERROR(INDEX(${range},MATCH(0,COUNTIF(${above},${range})+(${range}=""),0)),"")`;
}
