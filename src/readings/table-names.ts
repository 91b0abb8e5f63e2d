/** The column that keeps texts as found beside what was understood. */
export const AS_FOUND = 'as_found';

/** What the names of columns begin with that the program computes. They are made anew and never read back. */
export const COMPUTED_PREFIX = 'computed.';
