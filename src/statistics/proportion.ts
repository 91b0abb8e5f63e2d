/** Of how many tested, how many failed: whole numbers, `failed` from 0 to `tested`. */
export interface Proportion {
  readonly failed: number;
  readonly tested: number;
}
