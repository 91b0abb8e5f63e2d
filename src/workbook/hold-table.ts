import { holdToDecide } from '../physics/hold-to-decide.js';
import { sureLosses, type SureLosses } from '../physics/sure-losses.js';
import type { LeakTest } from '../physics/loss-margin.js';

/** Holds, in minutes, that the losses are given for. */
export const HOLD_MINUTES = [1, 2, 5, 10] as const;
/** Losses, as parts of the limit, that the holds are given for. 0 is a needle that has not moved. */
export const LOSS_SHARES = [0, 0.5, 0.8, 0.9, 1.1, 1.25, 1.5, 2] as const;

/** What may be lost over one hold. */
export interface HoldLine extends SureLosses {
  readonly minutes: number;
  readonly atLimit: number;
}

/** How long a loss of one size must be held. */
export interface ShareLine {
  readonly shareOfLimit: number;
  readonly minutes: number;
}

/**
 * Which losses decide a leak test by how long it is held, and how long each size of loss must be held, at 95 %.
 *
 * @returns null where the limit or the readability is not above zero
 * @example holdTable({ limitPerMin: 3, readableTo: 3 })!.holds[1] // { minutes: 2, atLimit: 6, passAtMost: 3.99, failAtLeast: 8.01 }
 */
export function holdTable(test: LeakTest): { readonly holds: readonly HoldLine[]; readonly shares: readonly ShareLine[] } | null {
  if (!(test.limitPerMin > 0 && test.readableTo > 0)) return null;
  const holds = HOLD_MINUTES.flatMap((minutes): HoldLine[] => {
    const sure = sureLosses(minutes, test);
    return sure ? [{ minutes, atLimit: test.limitPerMin * minutes, ...sure }] : [];
  });
  const shares = LOSS_SHARES.flatMap((shareOfLimit): ShareLine[] => {
    const minutes = holdToDecide(shareOfLimit * test.limitPerMin, test);
    return minutes === null ? [] : [{ shareOfLimit, minutes }];
  });
  return { holds, shares };
}
