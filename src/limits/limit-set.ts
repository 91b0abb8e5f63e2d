import { z } from 'zod';
import { fieldSchema, nameSchema } from '../readings/field.js';
import { expressionSchema, measureSchema } from './measure.js';
import { SEVERITIES } from './severity.js';

/** How sure it is that a limit stands in the text that is cited for it. */
export const STATUSES = ['read', 'secondary', 'memory', 'common practice'] as const;

/** Where a limit comes from. */
export const sourceSchema = z
  .strictObject({
    citation: z.string().min(1).max(300),
    printed: z.string().min(1).max(200).describe('the comparator in the words of the source; what it applies to stands in brackets'),
    status: z.enum(STATUSES),
    note: z.string().max(400).optional(),
  })
  .meta({ id: 'Source', title: 'Where a limit comes from' });

/** A limit: a number, or an expression over readings and measures. */
export const limitSchema = z.union([z.number(), expressionSchema]);

/** The comparators; a check has exactly one. */
export const COMPARATORS = ['at_most', 'less_than', 'at_least', 'more_than', 'between', 'must_be', 'no_number'] as const;

/** A measure held against a limit. Checks of one name are alternatives: the first whose `when` holds applies. */
export const checkSchema = z
  .strictObject({
    check: nameSchema,
    title: z.string().min(1).max(80),
    measure: nameSchema,
    when: expressionSchema.optional().describe('the check applies to the rows for which this holds'),
    at_most: limitSchema.optional(),
    less_than: limitSchema.optional(),
    at_least: limitSchema.optional(),
    more_than: limitSchema.optional(),
    between: z.tuple([limitSchema, limitSchema]).optional().describe('both ends are inside, unless without_ends says otherwise'),
    without_ends: z.enum(['lower', 'upper', 'both']).optional().describe('which ends of between are outside'),
    must_be: z.enum(['yes', 'no']).optional().describe('for a yes/no measure'),
    no_number: z.union([z.literal(true), z.literal('not known')]).optional().describe('this authority sets no number, or its number is not known; the measure is shown without a verdict'),
    unit: z.string().max(20).describe('the unit in which the limit is printed'),
    optional: z.boolean().default(false).describe('an inspection can pass without this check'),
    severity: z.enum(SEVERITIES).optional().describe('how grave it is to be outside the limit; advisory: outside it the verdict is recheck, never fail'),
    either_of: nameSchema.optional().describe('the checks of one such name are alternative routes, of which one is enough'),
    source: sourceSchema,
  })
  .refine((check) => COMPARATORS.filter((name) => check[name] !== undefined).length === 1, { message: `give exactly one of ${COMPARATORS.join(', ')}` })
  .refine((check) => check.without_ends === undefined || check.between !== undefined, { message: 'without_ends is for between' })
  .meta({ id: 'Check', title: 'A measure held against a limit' });

/** Most checks of a set, each alternative counted. */
const MOST_CHECKS = 300;

/** A condition of the test that an authority sets: outside it the check cannot be decided. */
export const conditionSchema = z
  .strictObject({
    checks: z.array(nameSchema).min(1).max(MOST_CHECKS),
    recheck_when: expressionSchema,
    say: z.string().min(1).max(300),
    source: sourceSchema,
  })
  .meta({ id: 'Condition', title: 'A condition of a test; outside it the verdict is recheck' });

/** How long after an inspection the next is due. */
export const intervalSchema = z
  .strictObject({
    months: z.int().min(1).max(120).optional(),
    days: z.int().min(1).max(3650).optional(),
    source: sourceSchema,
  })
  .refine(({ months, days }) => (months === undefined) !== (days === undefined), { message: 'give exactly one of months, days' })
  .meta({ id: 'Interval', title: 'How long after an inspection the next is due; exactly one of months, days' });

/** The rules of one authority, as a JSON file holds them. */
export const limitSetSchema = z
  .strictObject({
    format: z.literal('treadlebook-limits'),
    version: z.literal(1),
    extends: z.string().max(200).optional().describe('the identifier of a shipped set: its columns, measures, checks and conditions come first; a check of the same name here takes the place of that one'),
    id: z.string().regex(/^[a-z0-9][a-z0-9-]{0,59}$/),
    title: z.string().min(1).max(120),
    authority: z.string().min(1).max(200),
    shown_in: z.enum(['psi', 'kPa', 'bar']).optional().describe('the unit in which sheets, reasons and reports show pressures and losses; without it, that of the first limit on one. Expressions are in psi in any case'),
    notice: z.string().min(1).max(600).describe('the caution that is shown wherever the set is used'),
    columns: z.array(fieldSchema).max(200).default([]).describe('columns of the readings table that this set adds'),
    measures: z.array(measureSchema).max(200).default([]).describe('measures that this set adds to the shared ones'),
    checks: z.array(checkSchema).max(MOST_CHECKS).default([]),
    conditions: z.array(conditionSchema).max(200).default([]),
    interval: intervalSchema.optional().describe('how long after an inspection the next is due; without it the sheet Units names no due date'),
  })
  .meta({ id: 'LimitSet', title: 'Limit set: the rules of one authority' });

/** Where a limit comes from: citation, the words as printed, and how sure it is that they stand there. */
export type Source = z.output<typeof sourceSchema>;
export type Comparator = (typeof COMPARATORS)[number];
export type Check = z.output<typeof checkSchema>;
export type Condition = z.output<typeof conditionSchema>;
/** The rules of one authority; or of several together, see `combineLimitSets`. */
export interface LimitSet extends z.output<typeof limitSetSchema> {
  /** The sets that this one was put together from; no file has it. */
  readonly together?: readonly LimitSet[];
}
