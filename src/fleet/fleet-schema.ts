import { z } from 'zod';
import { FLEET_DIRECTIONS } from './fleet-figures.js';
import { FAIL_RATE_GROUPS, GROUP_FLAGS } from './group-fail-rate.js';
import { count, failRate, loss, seconds, share } from './schema-parts.js';

/** One period, as JSON. */
export const periodSchema = z
  .strictObject({
    period: z.string().describe('2026-W03 (ISO 8601 week), 2026-03 or 2026-Q1'),
    from: z.string(),
    to: z.string(),
    inspections: count,
    units: count,
    ...failRate,
    released_loss_median: loss,
    released_loss_p90: loss,
    applied_loss_median: loss,
    applied_loss_p90: loss,
    buildup_time_median: seconds,
    buildup_time_p90: seconds,
  })
  .meta({ id: 'PeriodSummary' });

/** The fail rate of one group, as JSON. */
export const groupSchema = z
  .strictObject({
    group: z.enum(FAIL_RATE_GROUPS),
    name: z.string(),
    ...failRate,
    estimate: share.nullable().describe('the rate drawn towards the rate of all groups (empirical Bayes, beta-binomial)'),
    flag: z.enum(GROUP_FLAGS).nullable().describe('beside the limits of a funnel plot'),
  })
  .meta({ id: 'GroupFailRate' });

/** What the groups of a table have in common, as JSON. */
export const priorSchema = z
  .strictObject({ group: z.enum(FAIL_RATE_GROUPS), mean: share, weight: z.number().min(0).nullable().describe('alpha + beta; null: the groups do not differ more than chance explains') })
  .meta({ id: 'RatePrior' });

const fleetTrendSchema = z
  .strictObject({
    figure: z.enum(['fail_rate', 'released_loss_median', 'applied_loss_median', 'buildup_time_median']),
    test: z.string(),
    periods: count,
    z: z.number().nullable(),
    p: share.nullable().describe('two-sided'),
    direction: z.enum(FLEET_DIRECTIONS),
  })
  .meta({ id: 'FleetTrend' });

const reasonSchema = z.strictObject({ reason: z.string(), failed: count, share, running_share: share }).meta({ id: 'Reason' });

/** The figures of the whole fleet, as JSON. */
export const fleetSchema = z
  .strictObject({
    inspections: count,
    units: count,
    ...failRate,
    released_loss_median: loss,
    applied_loss_median: loss,
    buildup_time_median: seconds,
    open: count.describe('units with an open failure'),
    overdue: count,
    first_time: z.strictObject({ tested: count, passed: count, rate: share.nullable(), low: share.nullable(), high: share.nullable() }),
    closed: z.strictObject({ failures: count, days_median: z.number().nullable(), days_p90: z.number().nullable() }),
    trends: z.array(fleetTrendSchema),
    reasons: z.array(reasonSchema),
    leak_places: z.array(reasonSchema),
  })
  .meta({ id: 'FleetFigures' });
