import { strokeLimits, type StrokeRule } from './stroke-limits.js';

/** A limit in the table: what formulas and the evaluation look up. */
export interface StrokeLimitLine {
  readonly chamber: string;
  /** Inches; null where the cell of a workbook holds no number. */
  readonly limit: number | null;
  readonly limit_mm: number;
  readonly citation: string;
  readonly status: string;
}

/** The numbers that strokes are held against: those that ship, or those of a workbook's own table. */
export interface StrokeNumbers {
  readonly limits: readonly StrokeLimitLine[];
  readonly rules: Readonly<Record<StrokeRule['rule'], Pick<StrokeRule, 'citation' | 'status'> & { readonly value: number | null }>>;
}

/** The numbers that ship with the program. */
export function strokeNumbers(): StrokeNumbers {
  const { limits, rules } = strokeLimits();
  return { limits, rules: Object.fromEntries(rules.map((rule) => [rule.rule, rule])) as unknown as StrokeNumbers['rules'] };
}
