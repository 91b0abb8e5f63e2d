/** A cell that could be understood. */
export interface Understood<T> {
  readonly ok: true;
  readonly value: T;
  /** True when the written text says no more than `value` printed plainly. */
  readonly exact: boolean;
}

/** A cell that could not be understood. */
export interface NotUnderstood {
  readonly ok: false;
  /** What would have been understood, as a noun phrase: "a pressure such as 104 or 7.2 bar". */
  readonly expected: string;
  /** What to do about it, as an imperative clause: "write 4.2 min if minutes are meant". */
  readonly hint?: string;
}

/**
 * What a parser of single cells returns. A parser returns `null` instead where the cell is blank, and
 * an understood `null` where the cell holds a mark for "not measured".
 */
export type ParseResult<T> = Understood<T> | NotUnderstood;

/**
 * Makes the result for a cell that was understood.
 *
 * @example
 * understood(104, true) // { ok: true, value: 104, exact: true }
 */
export function understood<T>(value: T, exact: boolean): Understood<T> {
  return { ok: true, value, exact };
}

/**
 * Makes the result for a cell that was not understood.
 *
 * @example
 * notUnderstood('yes or no') // { ok: false, expected: 'yes or no' }
 */
export function notUnderstood(expected: string, hint?: string): NotUnderstood {
  return hint === undefined ? { ok: false, expected } : { ok: false, expected, hint };
}
