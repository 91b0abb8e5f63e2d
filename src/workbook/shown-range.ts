import type { LimitPlan } from '../limits/compile-limit-set.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { columnRangeName } from './defined-names.js';

/**
 * The name of the range of Readings in which a computed column is shown: its own, or that of the column converted from it.
 *
 * @example shownRange(plan, 'released_loss') // 'computed_released_loss_shown' where the plan shows kPa
 */
export function shownRange({ columns }: Pick<LimitPlan, 'columns'>, name: string): string {
  const converted = `${COMPUTED_PREFIX}${name}_shown`;
  return columnRangeName(columns.some((column) => column.name === converted) ? converted : COMPUTED_PREFIX + name);
}
