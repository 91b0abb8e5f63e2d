import { z } from 'zod';
import { VERDICTS } from '../limits/verdict.js';
import { count, date, loss, share } from './schema-parts.js';
import { CONTROL_SIGNALS, CROSSINGS, DIRECTIONS } from './unit-summary.js';

const buildupExplained = z.string().nullable().describe('how much of a slow build-up the leak explains; for diagnosis, never for the verdict');

const controlChartSchema = z
  .strictObject({
    centre: z.number(),
    upper: z.number().nullable().describe('null when the loss never moved'),
    lower: z.number().nullable(),
    cusum_target: z.number(),
    cusum_limit: z.number().nullable(),
    cusum_high: z.array(z.number()),
    cusum_low: z.array(z.number()),
    signals: z.array(z.enum(CONTROL_SIGNALS)),
  })
  .meta({ id: 'ControlChart', description: 'Individuals and CUSUM chart, NIST/SEMATECH e-Handbook 6.3.2.2 and 6.3.2.3' });

const lossTrendSchema = z
  .strictObject({
    measure: z.string(),
    unit: z.string(),
    dates: z.array(z.string()),
    losses: z.array(z.number()).describe('one for each date'),
    limit: z.number().nullable(),
    since_repair: date.describe('the repair at which the course begins'),
    slope_per_90_days: z.number().nullable().describe('Theil-Sen'),
    slope_low: z.number().nullable().describe('95 % interval'),
    slope_high: z.number().nullable(),
    p: share.nullable().describe('Mann-Kendall, two-sided'),
    direction: z.enum(DIRECTIONS),
    crossing: z.enum(CROSSINGS),
    crosses_on: date.describe('the day on which the one-sided 95 % confidence bound of the fitted loss meets the limit (ICH Q1E)'),
    control: controlChartSchema.nullable(),
  })
  .meta({ id: 'LossTrend' });

/** One unit, as JSON. */
export const unitSchema = z
  .strictObject({
    unit: z.string(),
    vehicle_kind: z.string().nullable(),
    site: z.string().nullable(),
    inspections: count,
    failed: count,
    latest_on: date,
    latest_verdict: z.enum(VERDICTS).nullable(),
    latest_released_loss: loss,
    latest_applied_loss: loss,
    share_now: z.number().nullable().describe('share of a leak\'s limit at the latest inspection that has one'),
    share_now_on: date,
    worst_released_loss: loss,
    worst_applied_loss: loss,
    worst_share: z.number().nullable(),
    trend_of: z.string().nullable().describe('the measure that leads `trends`'),
    trends: z.array(lossTrendSchema),
    open_checks: z.array(z.string()).describe('checks that failed and have not passed since'),
    open_since: date,
    days_open: count.nullable(),
    last_repair_on: date,
    share_before_repair: z.number().nullable(),
    share_after_repair: z.number().nullable(),
    next_due: date,
    overdue_days: count.nullable(),
    buildup_explained: buildupExplained,
  })
  .meta({ id: 'UnitSummary' });

/** What is to be done on one unit, as JSON. */
export const openWorkSchema = z
  .strictObject({
    unit: z.string(),
    site: z.string().nullable(),
    open_since: z.string(),
    days_open: count,
    open_checks: z.array(z.string()),
    inspection_id: z.string().nullable(),
    row: z.int(),
    inspected_on: z.string(),
    reason: z.string(),
    leak_place: z.string().nullable(),
    where_to_look: z.string().nullable(),
    buildup_explained: buildupExplained,
    repaired_on: date,
  })
  .meta({ id: 'OpenWork' });
