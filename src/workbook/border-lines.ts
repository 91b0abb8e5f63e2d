import { borderMeasures } from '../limits/border-trees.js';
import { comparatorOf, printedLimits, type AlternativePlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { unitFactorNumber } from '../limits/limit-units.js';
import type { SetPart } from '../limits/set-parts.js';
import { cellName } from './defined-names.js';
import { limitWords } from './limit-words.js';
import type { FormulaText } from './text-formula.js';

/** One line of the limits side by side: a measure, and the limits that each set has for it. */
export interface BorderLine {
  readonly measure: string;
  /** The limits of each set in words, with when they apply and their citations; `no limit` where it has none. */
  readonly limits: readonly FormulaText[];
  /** Whether the sets that have a limit differ, and which have none. */
  readonly difference: FormulaText;
}

/** The limits of several sets side by side, one line for each measure that any of them holds against a limit. */
export function borderLines(plan: LimitPlan): BorderLine[] {
  return borderMeasures(plan.sets).map(({ measure }) => {
    const own = plan.sets.map((set) => alternativesOf(set, measure.measure));
    return {
      measure: measure.title,
      limits: own.map((alternatives) => together(alternatives.map((alternative) => limitOf(plan, alternative)))),
      difference: differenceOf(plan.sets, own),
    };
  });
}

function alternativesOf({ checks }: SetPart, measure: string): AlternativePlan[] {
  return checks.filter((check) => check.comparator !== 'no_number' && check.measure.measure.measure === measure).flatMap(({ alternatives }) => alternatives);
}

function limitOf(plan: LimitPlan, alternative: AlternativePlan): FormulaText {
  const { citation, status } = alternative.check.source;
  return limitWords(plan, alternative, ` [${citation}; ${status}]`);
}

/** Several limits of one set, one after the other. */
function together(limits: readonly FormulaText[]): FormulaText {
  if (limits.length === 0) return { text: 'no limit', formula: null };
  const text = limits.map((limit) => limit.text).join('; ');
  if (limits.every(({ formula }) => formula === null)) return { text, formula: null };
  return { text, formula: limits.map((limit) => limit.formula ?? `"${limit.text.replaceAll('"', '""')}"`).join('&"; "&') };
}

function differenceOf(sets: readonly SetPart[], own: readonly (readonly AlternativePlan[])[]): FormulaText {
  const without = sets.filter((_, index) => own[index]!.length === 0).map(({ label }) => label);
  const given = own.filter((alternatives) => alternatives.length > 0);
  const none = without.length === 0 ? '' : `; no limit in ${without.join(', ')}`;
  if (given.length === 1) return { text: `one alone${none}`, formula: null };
  const [first, ...others] = given.map(ruleOf) as [Rule, ...Rule[]];
  if (others.some(({ kind }) => kind !== first.kind)) return { text: `differ${none}`, formula: null };
  const tests = others.flatMap(({ ends }) => ends.map((end, index) => `ROUND(${end.formula},6)<>ROUND(${first.ends[index]!.formula},6)`));
  const differ = others.some(({ ends }) => ends.some((end, index) => Math.abs(end.value - first.ends[index]!.value) >= 5e-7));
  if (tests.length === 0) return { text: `the same${none}`, formula: null };
  return { text: `${differ ? 'differ' : 'the same'}${none}`, formula: `IF(OR(${tests.join(',')}),"differ","the same")${none === '' ? '' : `&"${none.replaceAll('"', '""')}"`}` };
}

/** What of limits can be compared: when they apply and how they compare, their expressions, and their plain numbers in the unit of the measure. */
interface Rule {
  readonly kind: string;
  readonly ends: readonly { readonly formula: string; readonly value: number }[];
}

function ruleOf(alternatives: readonly AlternativePlan[]): Rule {
  const kinds: string[] = [];
  const ends: { formula: string; value: number }[] = [];
  for (const { check, cells } of alternatives) {
    const factor = unitFactorNumber(check.unit);
    kinds.push(check.when ?? '', comparatorOf(check), check.without_ends ?? '', check.must_be ?? '');
    for (const [index, limit] of printedLimits(check).entries()) {
      const cell = cells[index] ?? null;
      if (typeof limit === 'string') kinds.push(limit, check.unit);
      else if (cell !== null) ends.push({ formula: `${cellName(cell.name)}*${factor}`, value: cell.value * factor });
    }
  }
  return { kind: `${kinds.join('\n')}\n${ends.length}`, ends };
}
