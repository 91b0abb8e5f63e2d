import { rankedLosses, type RankedLoss } from '../../fleet/ranked-losses.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { COMPUTED_PREFIX } from '../../readings/table-names.js';
import { columnRangeName } from '../defined-names.js';

/** A loss of the sheet One unit, and the columns of Readings that tell of it; null where the set has none. */
export interface ShownLoss extends RankedLoss {
  readonly title: string;
  readonly columns: Readonly<Record<'value' | 'verdict' | 'limit' | 'share' | 'uncertainty', LossColumn | null>>;
}

/** A computed column: the name of its range, and its place among the columns of the plan. */
export interface LossColumn {
  readonly range: string;
  readonly index: number;
}

/** The losses by which units are ranked, in the order of the plan. */
export function shownLosses(plan: LimitPlan): ShownLoss[] {
  return rankedLosses(plan).map((loss) => {
    const { measure, check, hasUpperLimit } = loss;
    const ofCheck = (part: string): LossColumn | null => (check === null ? null : computedColumn(plan, `${check}_${part}`));
    return {
      ...loss,
      title: plan.measures.find((one) => one.measure.measure === measure)!.measure.title,
      columns: {
        value: computedColumn(plan, measure),
        verdict: ofCheck('check_verdict'),
        limit: hasUpperLimit ? ofCheck('limit') : null,
        share: ofCheck('share'),
        uncertainty: computedColumn(plan, `${measure}_u`),
      },
    };
  });
}

/** A computed column of Readings by its name without `computed.`; null when the plan has none of that name. */
export function computedColumn(plan: LimitPlan, name: string): LossColumn | null {
  const index = plan.columns.findIndex((column) => column.name === COMPUTED_PREFIX + name);
  return index < 0 ? null : { range: columnRangeName(COMPUTED_PREFIX + name), index };
}
