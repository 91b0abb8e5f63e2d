/** What can be said of a check, and of an inspection. */
export const VERDICTS = ['pass', 'fail', 'recheck', 'not tested'] as const;

/** One of the verdicts. `recheck`: the readings cannot decide it. */
export type Verdict = (typeof VERDICTS)[number];
