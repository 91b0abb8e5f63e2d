import type { FleetOutcome, FleetTally } from './opened-fleet.js';

/** The figures of a fleet, beside its tally. */
export type FleetFiguresToo = Omit<FleetOutcome, keyof FleetTally>;

/** What came of a fleet that is evaluated as it is taken: nothing before its end. */
export class FleetResult {
  private whole: { readonly tally: FleetTally; readonly figures: FleetFiguresToo | null } | null = null;

  /** @param figures null where none were asked for */
  set(tally: FleetTally, figures: FleetFiguresToo | null): void {
    this.whole = { tally, figures };
  }

  /** @throws TypeError before the evaluations have been taken to their end */
  tally(): FleetTally {
    return this.taken().tally;
  }

  /** @throws TypeError as {@link tally}, and where the fleet was opened without its figures */
  outcome(): FleetOutcome {
    const { tally, figures } = this.taken();
    if (figures === null) throw new TypeError('the fleet was opened without its figures');
    return { ...tally, ...figures };
  }

  private taken(): NonNullable<FleetResult['whole']> {
    if (this.whole === null) throw new TypeError('the evaluations have not been taken to their end');
    return this.whole;
  }
}
