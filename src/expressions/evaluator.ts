import type { Value } from './value.js';

/** Gives a value from the slots of one row. */
export interface Evaluator {
  (slots: readonly Value[]): Value;
  /** The value, where it is the same for every row. */
  readonly constant?: Value;
  /** The slot, where it gives the value of one as it stands. */
  readonly slot?: number;
}

/** An evaluator that gives one value for every row. */
export function constantEvaluator(value: Value): Evaluator {
  return Object.assign(() => value, { constant: value });
}

/** An evaluator that gives the value of one slot. */
export function slotEvaluator(slot: number): Evaluator {
  return Object.assign((slots: readonly Value[]): Value => slots[slot]!, { slot });
}
