/** The plausible span of a test, in seconds, both ends included. It decides where a cell alone does not. */
export interface TimeOptions {
  readonly shortest: number;
  readonly longest: number;
}

/**
 * What would be understood as a time, in words.
 *
 * @example
 * expectedTime({ shortest: 15, longest: 900 }) // 'a time such as 60 s, 1:00 or 4 min 10 s, or seconds between 15 and 900'
 */
export function expectedTime({ shortest, longest }: TimeOptions): string {
  const span = Number.isFinite(shortest) && Number.isFinite(longest) ? `, or seconds between ${shortest} and ${longest}` : '';
  return `a time such as 60 s, 1:00 or 4 min 10 s${span}`;
}

/** True where a number of seconds lies in the plausible span. */
export function isPlausibleTime(seconds: number, { shortest, longest }: TimeOptions): boolean {
  return shortest <= seconds && seconds <= longest;
}
