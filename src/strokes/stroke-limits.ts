import { z } from 'zod';
import { readPackageJsonFile } from '../util/read-package-json-file.js';

const STATUSES = ['read', 'secondary', 'memory', 'common practice'] as const;
const source = { citation: z.string().min(1), printed: z.string().min(1), status: z.enum(STATUSES) };

/** The limit of one kind of brake chamber. The inch decides; the metric figure is as printed. */
export const strokeLimitSchema = z.strictObject({
  chamber: z.string().regex(/^(?:clamp|bolt|rotochamber|DD-3) [0-9A-G]{1,2} (?:standard|long(?: (?:2-1\/2|3))?)$/).describe('type, size and stroke kind, as entered'),
  diameter: z.string().min(1),
  limit: z.number().positive().describe('in'),
  limit_mm: z.number().positive(),
  as_printed: z.string().min(1),
  ...source,
});

/** What the numbers are that hold for every chamber. */
export const STROKE_RULES = ['rated_share', 'whole_defect', 'out_of_service_share'] as const;

const ruleSchema = z.strictObject({ rule: z.enum(STROKE_RULES), title: z.string().min(1), value: z.number().positive(), unit: z.string().min(1), ...source });
const fileSchema = z
  .strictObject({ limits: z.array(strokeLimitSchema), rules: z.array(ruleSchema) })
  .refine(({ limits }) => new Set(limits.map(({ chamber }) => chamber.toLowerCase())).size === limits.length, { message: 'a chamber stands twice' })
  .refine(({ rules }) => rules.map(({ rule }) => rule).join() === STROKE_RULES.join(), { message: `the rules must be ${STROKE_RULES.join(', ')}, in this order` });

/** The limit of one kind of brake chamber. */
export type StrokeLimit = z.output<typeof strokeLimitSchema>;
/** A number that holds for every chamber. */
export type StrokeRule = z.output<typeof ruleSchema>;

/** The limits that strokes are held against. */
export interface StrokeLimits {
  readonly limits: readonly StrokeLimit[];
  readonly rules: readonly StrokeRule[];
}

let shipped: StrokeLimits | undefined;

/**
 * The limits of pushrod strokes as shipped in `workbooks/stroke-limits.json`: inches, by type, size and kind of stroke of the
 * chamber, with the figure in millimetres as printed, the citation and how sure it is.
 *
 * @example strokeLimits().limits.find(({ chamber }) => chamber === 'clamp 30 standard')?.limit // 2
 */
export function strokeLimits(): StrokeLimits {
  return (shipped ??= fileSchema.parse(readPackageJsonFile('workbooks', 'stroke-limits.json')));
}
