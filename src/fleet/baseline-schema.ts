import { z } from 'zod';
import { DIFFERENCE_WORDS } from './baseline-comparison.js';
import { FAIL_RATE_GROUPS } from './group-fail-rate.js';
import { failRate, openPeriod } from './schema-parts.js';

const change = z.number().min(-1).max(1).nullable();

/** A fleet set beside an earlier one, as JSON. */
export const baselineSchema = z
  .strictObject({
    source: z.strictObject({ name: z.string(), sha256: z.string(), inspections: z.int() }),
    before: z.strictObject(openPeriod),
    now: z.strictObject(openPeriod),
    rates: z.array(
      z.strictObject({
        group: z.enum(['all', ...FAIL_RATE_GROUPS]),
        name: z.string(),
        before: z.strictObject(failRate),
        now: z.strictObject(failRate),
        difference: change.describe('now less before'),
        low: change,
        high: change,
        verdict: z.enum(DIFFERENCE_WORDS),
      }),
    ),
    medians: z.array(z.strictObject({ figure: z.enum(['released_loss', 'applied_loss', 'buildup_time']), before: z.number().nullable(), now: z.number().nullable() })),
  })
  .meta({ id: 'BaselineComparison' });
