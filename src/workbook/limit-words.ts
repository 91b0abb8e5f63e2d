import { hoistNumber } from '../expressions/hoist-number.js';
import { toWords } from '../expressions/to-words.js';
import { comparatorOf, printedLimits, type AlternativePlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { COMPARATOR_WORDS, endWords } from '../limits/comparator-words.js';
import { NameScope } from '../limits/name-scope.js';
import { cellName } from './defined-names.js';
import { textFormula, type FormulaText, type TextPiece } from './text-formula.js';

/** Stands in the words of an expression for the number that has a cell of its own. */
const HOLE = '\u0001';

/** The titles of readings and measures, by their names among the names of the row program. */
export function titlesOf(plan: LimitPlan): (name: string) => string {
  const titles = new Map<string, string>(plan.dictionary.fields.map(({ name, title }) => [name, title]));
  for (const { name, measure } of plan.measures) titles.set(name, measure.title);
  return (name) => titles.get(name) ?? name;
}

/**
 * A limit in words, in the unit in which it is printed, and when it applies; `remark` follows it. Its numbers are those of the cells of the sheet Limits.
 *
 * @example limitWords(plan, alternative).text // 'at most 3 psi/min, if Vehicles in combination is at least 2'
 */
export function limitWords(plan: LimitPlan, alternative: AlternativePlan, remark = ''): FormulaText {
  const when = alternative.when === null ? [] : [`, if ${toWords(alternative.when, titlesOf(plan))}`];
  return textFormula([...limitPieces(plan, alternative), ...when, remark]);
}

function limitPieces(plan: LimitPlan, { check, cells }: AlternativePlan): TextPiece[] {
  const comparator = comparatorOf(check);
  if (comparator === 'must_be') return [`${COMPARATOR_WORDS.must_be} ${check.must_be}`];
  if (comparator === 'no_number') return [COMPARATOR_WORDS.no_number];
  const printed = printedLimits(check);
  const isShare = check.unit === 'share' && printed.every((limit) => typeof limit === 'number');
  const ends = printed.map((limit, index): TextPiece[] => {
    const cell = cells[index] ?? null;
    if (typeof limit === 'string') return expressionPieces(plan, limit, cell?.name ?? null);
    if (cell === null) return [String(isShare ? limit * 100 : limit)];
    return [{ name: cellName(cell.name), value: cell.value, ...(isShare ? { times: 100 } : {}) }];
  });
  const unit = unitWords(check.unit, printed.some((limit) => typeof limit === 'string'));
  return [`${COMPARATOR_WORDS[comparator]} `, ...ends[0]!, ...(ends[1] ? [' and ', ...ends[1]] : []), unit, endWords(check.without_ends)];
}

function unitWords(unit: string, afterWords: boolean): string {
  if (unit === '') return '';
  if (afterWords) return ` (${unit === 'share' ? 'as a part of 1' : unit})`;
  return unit === 'share' ? ' %' : ` ${unit}`;
}

function expressionPieces(plan: LimitPlan, expression: string, cell: string | null): TextPiece[] {
  const scope = new NameScope(plan.dictionary);
  for (const { measure, type } of plan.measures) scope.addMeasure(measure.measure, type);
  const tree = scope.parse(expression, expression, 'number');
  const titles = titlesOf(plan);
  const hoisted = cell === null ? null : hoistNumber(tree, HOLE);
  if (hoisted === null) return [toWords(tree, titles)];
  const [before = '', after = ''] = toWords(hoisted.tree, (name) => (name === HOLE ? HOLE : titles(name))).split(HOLE);
  return [before, { name: cellName(cell!), value: hoisted.value }, after].filter((piece) => piece !== '');
}
