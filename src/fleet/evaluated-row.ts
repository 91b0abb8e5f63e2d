import type { Value } from '../expressions/tree.js';
import type { Verdict } from '../limits/verdict.js';
import type { Inspection } from '../readings/inspection.js';
import type { Borders, CheckResult, Evaluation } from './evaluation.js';
import { plainEvaluation } from './plain-evaluation.js';

/** Works out what an evaluation says, when it is asked for. */
export interface RowSource {
  computed(inspection: Inspection): readonly Value[];
  measures(inspection: Inspection): Evaluation['measures'];
  checks(inspection: Inspection): readonly CheckResult[];
  borders(inspection: Inspection): Borders | undefined;
  reason(inspection: Inspection): string;
}

/** Where the texts stand among an inspection's values that every evaluation names. */
export interface IdentityAt {
  readonly inspection_id: number;
  readonly inspected_on: number;
  readonly unit: number;
}

/**
 * An evaluation that keeps the inspection and its verdict, and works the rest out anew where it is asked for: many of them
 * take little more room than their readings. What it gives is the same every time.
 */
export class EvaluatedRow implements Evaluation {
  readonly #source: RowSource;
  readonly row: number;
  readonly inspection_id: string | null;
  readonly inspected_on: string | null;
  readonly unit: string | null;
  readonly verdict: Verdict;
  readonly inspection: Inspection;

  constructor(source: RowSource, inspection: Inspection, verdict: Verdict, at: IdentityAt) {
    this.#source = source;
    this.row = inspection.row;
    this.inspection_id = inspection.values[at.inspection_id] as string | null;
    this.inspected_on = inspection.values[at.inspected_on] as string | null;
    this.unit = inspection.values[at.unit] as string | null;
    this.verdict = verdict;
    this.inspection = inspection;
  }

  get reason(): string {
    return this.#source.reason(this.inspection);
  }

  get measures(): Evaluation['measures'] {
    return this.#source.measures(this.inspection);
  }

  get checks(): readonly CheckResult[] {
    return this.#source.checks(this.inspection);
  }

  get borders(): Borders | undefined {
    return this.#source.borders(this.inspection);
  }

  get computed(): readonly Value[] {
    return this.#source.computed(this.inspection);
  }

  /** All of it, as {@link plainEvaluation} gives it; a spread (`{ ...evaluation }`) would leave out what is worked out. */
  toJSON(): Evaluation {
    return plainEvaluation(this);
  }
}
