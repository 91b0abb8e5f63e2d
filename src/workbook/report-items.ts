import type { Evaluation } from '../fleet/evaluation.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { unitShown } from '../limits/shown-pressure.js';
import { entryText } from '../readings/entry-text.js';
import { HALF_WIDTH, type Field } from '../readings/field.js';
import type { ColumnRole } from '../readings/find-header.js';
import type { Inspection } from '../readings/inspection.js';
import { extraCell } from './cell-values.js';
import { printedValue, shownUnit } from './printed-result.js';
import type { ReportItem } from './report-boxes.js';

/** The groups of fields that say which vehicle, when and who. */
const HEADING_GROUPS: ReadonlySet<string> = new Set(['identity', 'gauge', 'followup']);

/** What is filled in of an inspection, as it was typed: which vehicle, when and who, or the readings. */
export function readingItems(plan: LimitPlan, inspection: Inspection, part: 'heading' | 'readings'): ReportItem[] {
  const { fields, sheetOrder } = plan.dictionary;
  return sheetOrder.flatMap((position) => {
    const field = fields[position]!;
    const text = field.name.endsWith(HALF_WIDTH) ? '' : asTyped(field, position, inspection);
    return text === '' || HEADING_GROUPS.has(field.group) !== (part === 'heading') ? [] : [{ label: field.title, text }];
  });
}

function asTyped(field: Field, position: number, { values, asFound, notRead }: Inspection): string {
  const found = asFound.get(field.name);
  if (found === undefined && field.name === 'pressure_unit' && values[position] === null) return `${field.whenBlank} (left blank)`;
  if (found !== undefined) return notRead.includes(field.name) ? `${found} (not understood)` : found;
  return entryText(field, values[position] ?? null);
}

/** The cells of columns that are not ours. */
export function ownColumnItems(columns: readonly ColumnRole[], { extra }: Inspection): ReportItem[] {
  const headers = columns.flatMap((column) => (column.role === 'extra' ? [column.header] : []));
  return extra.flatMap((cell, index) => {
    const value = extraCell(cell);
    return value === null ? [] : [{ label: headers[index] || 'no header', text: String(value) }];
  });
}

/** The measures that could be worked out, each with its unit. */
export function measureItems(plan: LimitPlan, { measures }: Evaluation): ReportItem[] {
  return plan.measures.flatMap(({ measure: { measure, title, unit } }) => {
    const value = measures[measure] ?? null;
    return value === null ? [] : [{ label: title, text: printedValue(value, unit, shownUnit(plan, measure) ?? unitShown(unit, plan.shownPressure)) }];
  });
}
