import { PSI_FACTOR } from '../limits/check-names.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { READABLE } from '../limits/uncertainty-tree.js';
import { HALF_WIDTH } from '../readings/field.js';
import type { Evaluation } from './evaluation.js';
import type { UnitBuildup } from './explain-slow-build-up.js';
import { rankedLosses } from './ranked-losses.js';
import type { BuildupRecord, UnitRecord } from './unit-record.js';

/** Higher than any gauge of this kind shows, as for the measure build-up time; common practice, no source. */
const HIGHEST_PSI = 200;
const TIME = 'buildup_time';
const RELEASED = 'released_loss';

/** Picks the build-up from evaluations. */
export class BuildupRecorder {
  private readonly columns: { readonly factor: number; readonly readable: number };
  /** The numbers of the checks on a build-up, among those of the plan. */
  private readonly checks: readonly number[];
  /** The number of the released loss among the losses ranked; -1 where it is not among them. */
  private readonly released: number;

  constructor(private readonly plan: LimitPlan) {
    const column = (name: string): number => plan.columns.findIndex(({ id }) => id === name);
    this.columns = { factor: column(PSI_FACTOR), readable: column(READABLE) };
    this.checks = plan.checks.flatMap(({ measure, comparator }, index) => (comparator !== 'no_number' && measure.readings.includes(TIME) ? [index] : []));
    this.released = rankedLosses(plan).findIndex(({ measure }) => measure === RELEASED);
  }

  /**
   * The build-up of an inspection; null where none was timed. It counts as passed where a check on it passed and none
   * failed, and where the set has no check on it.
   *
   * @param record what is kept of the inspection else
   */
  record(evaluation: Evaluation, { on, decided, losses }: Pick<UnitRecord, 'on' | 'decided' | 'losses'>): BuildupRecord | null {
    const seconds = this.entry(evaluation, TIME);
    if (seconds === null) return null;
    const verdicts = this.checks.map((check) => decided[check]);
    const passed = this.checks.length === 0 || (verdicts.includes('p') && !verdicts.includes('f'));
    return { test: this.test(evaluation, { on, seconds, losses }), passed };
  }

  /** The test with its pressures; null where they were not written down, or are none that a gauge shows. */
  private test(evaluation: Evaluation, { on, seconds, losses }: { readonly on: string; readonly seconds: number; readonly losses: UnitRecord['losses'] }): UnitBuildup | null {
    const [fromPsi, toPsi] = [this.pressure(evaluation, 'buildup_from'), this.pressure(evaluation, 'buildup_to')];
    if (fromPsi === null || toPsi === null || toPsi > HIGHEST_PSI) return null;
    return { on, fromPsi, toPsi, seconds, lossPsiPerMin: this.loss(evaluation, losses), rpm: this.entry(evaluation, 'engine_rpm'), readablePsi: this.readable(evaluation) };
  }

  /** The leak, where it was decided on; where no check is on it, what was read, if the pressure did not rise. */
  private loss({ measures }: Evaluation, losses: UnitRecord['losses']): number | null {
    if (this.released >= 0) return losses[this.released]?.value ?? null;
    const loss = number(measures[RELEASED]);
    return loss !== null && loss >= 0 ? loss : null;
  }

  /** What can be told on the gauge, or the width of the wider of the two ranges where a pressure was written as one. */
  private readable(evaluation: Evaluation): number | null {
    const widths = ['buildup_from', 'buildup_to'].map((name) => this.pressure(evaluation, name + HALF_WIDTH)).map((half) => (half === null ? null : 2 * half));
    const known = [number(evaluation.computed[this.columns.readable]), ...widths].filter((one) => one !== null);
    return known.length === 0 ? null : Math.max(...known);
  }

  private pressure(evaluation: Evaluation, name: string): number | null {
    const [entered, factor] = [this.entry(evaluation, name), number(evaluation.computed[this.columns.factor])];
    return entered === null || factor === null ? null : entered * factor;
  }

  private entry({ inspection }: Evaluation, name: string): number | null {
    const position = this.plan.dictionary.position.get(name);
    return position === undefined ? null : number(inspection.values[position]);
  }
}

function number(value: unknown): number | null {
  return typeof value === 'number' ? value : null;
}
