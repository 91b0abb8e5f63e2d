import { setFlagsFromString } from 'node:v8';

/** By how much the heap may grow beyond what is still in use before it is cleared again, in per cent. */
const GROWTH = 50;

/**
 * Has the engine clear its heap sooner. By default it lets the heap of a machine with much memory grow to four times what
 * is in use, which a fleet of 50,000 inspections needs nothing of; this costs a twentieth of the time. It is a setting of
 * the whole process, and so for the program alone: the library leaves its caller's process as it is.
 *
 * @example keepHeapClose()
 */
export function keepHeapClose(): void {
  setFlagsFromString(`--heap-growing-percent=${GROWTH}`);
}
