import { z } from 'zod';
import { nameSchema } from '../readings/field.js';

/** An expression over names of readings and measures. */
export const expressionSchema = z.string().min(1).max(1000).meta({ id: 'Expression', description: 'arithmetic, comparisons, and, or, not, ? : and min max abs round sqrt exp ln highest lowest given only_if, over names of readings and measures' });

/** When readings contradict a test or lie outside its conditions, and what to say then. */
export const recheckSchema = z.strictObject({ when: expressionSchema, say: z.string().min(1).max(300) });

/** A quantity computed from readings. */
export const measureSchema = z
  .strictObject({
    measure: nameSchema,
    title: z.string().min(1).max(60),
    unit: z.string().max(20).describe('psi, psi/min, s, psi/s, share, or empty; for diagnosis also L/min, mm or min'),
    expression: expressionSchema.optional(),
    highest_of: z.array(nameSchema).min(2).max(50).optional().describe('measures of which the highest counts, of those that were tested'),
    lowest_of: z.array(nameSchema).min(2).max(50).optional().describe('measures of which the lowest counts, of those that were tested'),
    meaning: z.string().min(1).max(300),
    circuit: nameSchema.optional().describe('the brake circuit that it is measured on, such as primary or secondary; checks that rest on it say which circuit fails'),
    held_for: nameSchema.optional().describe('the time reading over which the test was held; a longer hold makes the result surer'),
    says: z
      .array(z.strictObject({ when: expressionSchema.optional(), say: z.string().min(1).max(300) }))
      .min(1)
      .max(20)
      .optional()
      .describe('a clause for the reason, with readings in braces; the first whose `when` holds is said'),
    recheck: z.array(recheckSchema).max(20).default([]),
    when_used: z.boolean().optional().describe('true for a measure that is shown only where the limit set uses it, or the file has the columns that it needs'),
    diagnosis: z.array(nameSchema).max(50).optional().describe('for a measure that is shown for diagnosis, where it has a value, and never held against a limit: the optional columns that a table must have for it'),
    ranks_units: z.boolean().default(false).describe('true for a leak: units are ranked by the share of its limit'),
  })
  .refine((measure) => [measure.expression, measure.highest_of, measure.lowest_of].filter((way) => way !== undefined).length === 1, {
    message: 'give exactly one of expression, highest_of, lowest_of',
  })
  .meta({ id: 'Measure', title: 'A quantity computed from readings' });

/** A quantity computed from readings, see {@link measureSchema}. */
export type Measure = z.output<typeof measureSchema>;
