import { rankedLosses, type RankedLoss } from '../../fleet/ranked-losses.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { isPressure, shownDivisor, unitShown } from '../../limits/shown-pressure.js';
import { COMPUTED_PREFIX } from '../../readings/table-names.js';
import type { CellLook } from '../cell-styles.js';
import { cellName, columnRangeName } from '../defined-names.js';
import { LOSS_FORMATS } from '../loss-formats.js';
import { LOSS } from './one-unit-cells.js';

/** A loss of the sheet One unit, and the columns of Readings that tell of it; null where the set has none. */
export interface ShownLoss extends RankedLoss {
  readonly title: string;
  /** The unit in which it is shown; `unit` is the one that it is computed in. */
  readonly shownUnit: string;
  /** The name on the sheet Limits of what it is divided by to be shown; null where it is shown as it is computed. */
  readonly divisor: string | null;
  readonly look: CellLook;
  readonly columns: Readonly<Record<'value' | 'verdict' | 'limit' | 'share' | 'uncertainty' | 'shownValue' | 'shownLimit', LossColumn | null>>;
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
    const { shownPressure } = plan;
    const divisor = shownDivisor(loss.unit, shownPressure);
    const limit = hasUpperLimit ? ofCheck('limit') : null;
    return {
      ...loss,
      shownUnit: unitShown(loss.unit, shownPressure),
      divisor: divisor === null ? null : cellName(divisor),
      look: { ...LOSS, ...(isPressure(loss.unit) && { format: LOSS_FORMATS[shownPressure].usual }) },
      title: plan.measures.find((one) => one.measure.measure === measure)!.measure.title,
      columns: {
        value: computedColumn(plan, measure),
        verdict: ofCheck('check_verdict'),
        limit,
        share: ofCheck('share'),
        uncertainty: computedColumn(plan, `${measure}_u`),
        shownValue: computedColumn(plan, divisor === null ? measure : `${measure}_shown`),
        shownLimit: limit && (divisor === null ? limit : ofCheck('limit_shown')),
      },
    };
  });
}

/** A computed column of Readings by its name without `computed.`; null when the plan has none of that name. */
export function computedColumn(plan: LimitPlan, name: string): LossColumn | null {
  const index = plan.columns.findIndex((column) => column.name === COMPUTED_PREFIX + name);
  return index < 0 ? null : { range: columnRangeName(COMPUTED_PREFIX + name), index };
}

/** What a number of the leading loss is divided by to be shown, by the cell that holds the number of that loss; null where every loss is shown as it is computed. */
export function leadingDivisor(losses: readonly ShownLoss[], leading: string): string | null {
  const divisors = losses.map(({ divisor }) => divisor ?? '1');
  if (divisors.every((divisor) => divisor === '1')) return null;
  return new Set(divisors).size === 1 ? divisors[0]! : `CHOOSE(${leading},${divisors.join(',')})`;
}
