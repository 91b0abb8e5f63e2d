import type { SummarisedFleet } from '../fleet/compare-fleets.js';
import { FleetSummariser } from '../fleet/fleet-summariser.js';
import { RowEvaluator } from '../fleet/row-evaluator.js';
import type { FleetSummary } from '../fleet/summary.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import type { BaselineInfo } from './baseline-info.js';
import { openReadings, type OpenedReadings, type OpenOptions } from './open-readings.js';
import { isCounted, PeriodCounter, type PeriodCounts } from './period-counts.js';
import type { ReadingsInput } from './readings-input.js';
import { SeenInspections } from './seen-inspections.js';
import { statedProvenance, type StatedProvenance } from './stated-provenance.js';

/** An earlier table, evaluated with the limits of the one that is set beside it. */
export interface EvaluatedBaseline {
  readonly fleet: SummarisedFleet;
  readonly info: Omit<BaselineInfo, 'shared'>;
  readonly seen: SeenInspections;
}

/** How to open a baseline. */
export type BaselineOptions = Pick<OpenOptions, 'name' | 'dateOrder' | 'units' | 'caps'>;

const UNNAMED = 'the baseline';

/**
 * Evaluates a baseline: an evaluated workbook or any table of readings. Of a workbook whose summaries count a period, as its
 * sheet Provenance says, that period is counted here too; of any other all inspections.
 *
 * @throws TreadlebookError as openReadings, and `input_empty` when it has no inspection; each says that it is the baseline
 */
export async function evaluateBaseline(input: ReadingsInput, plan: LimitPlan, options: BaselineOptions = {}): Promise<EvaluatedBaseline> {
  try {
    return await evaluated(input, plan, options);
  } catch (cause) {
    if (!(cause instanceof TreadlebookError)) throw cause;
    const { code, what, mend, where = UNNAMED } = cause;
    throw new TreadlebookError({ code, what, mend, where: where.startsWith(UNNAMED) ? where : `${UNNAMED} ${where}`, cause });
  }
}

async function evaluated(given: ReadingsInput, plan: LimitPlan, options: BaselineOptions): Promise<EvaluatedBaseline> {
  const { dateOrder, units, caps } = options;
  const name = options.name ?? (typeof given === 'string' ? undefined : UNNAMED);
  const opened = await openReadings(given, { name, dateOrder, units, caps, dictionary: plan.dictionary });
  return evaluatedFrom(opened, plan, units).finally(() => opened.close());
}

async function evaluatedFrom({ reader, source, book }: OpenedReadings, plan: LimitPlan, units: BaselineOptions['units']): Promise<EvaluatedBaseline> {
  const { limitSet, from, to } = await statedProvenance(book);
  const evaluator = new RowEvaluator(plan);
  const summariser = new FleetSummariser(plan, { from, to });
  const [all, counted] = [new PeriodCounter({ from, to }), new PeriodCounter({ from, to })];
  const seen = new SeenInspections(units);
  for await (const inspection of reader.inspections) {
    const evaluation = evaluator.evaluate(inspection);
    summariser.add(evaluation);
    all.add(evaluation);
    if (!isCounted(evaluation, { from, to })) continue;
    counted.add(evaluation);
    seen.add(evaluation);
  }
  const info = source();
  if (info.inspections === 0) throw new TreadlebookError({ code: 'input_empty', where: info.name, what: 'there is no inspection below the header', mend: 'name a table with inspections, or leave the baseline out' });
  return {
    fleet: { summary: withDates(summariser.result(), counted.result()), source: info },
    info: { source: info, period: { from, to }, counts: all.result(), problems: reader.problems.length, otherLimits: otherLimits(limitSet, plan) },
    seen,
  };
}

/** The words for the set that a workbook names, where it is not the plan's. */
function otherLimits(named: StatedProvenance['limitSet'], { set, sha256 }: LimitPlan): string | null {
  if (named === null) return null;
  if (named.id !== set.id) return named.words;
  return named.sha256 === null || named.sha256 === sha256 ? null : `another version of ${named.words}`;
}

/** A summary of which the open ends of the period are the dates of its inspections. */
export function withDates(summary: FleetSummary, { first, last }: Pick<PeriodCounts, 'first' | 'last'>): FleetSummary {
  const { period } = summary;
  return { ...summary, period: { ...period, from: period.from ?? first, to: period.to ?? last } };
}
