import { z } from 'zod';
import { COMPARATORS, STATUSES } from '../limits/limit-set.js';
import { VERDICTS } from '../limits/verdict.js';
import { FAIL_RATE_GROUPS } from './summary.js';

const share = z.number().min(0).max(1);
const measured = z.union([z.number(), z.string(), z.boolean(), z.null()]);
const verdictSchema = z.enum(VERDICTS);
const failRate = { tested: z.int().min(0), failed: z.int().min(0), recheck: z.int().min(0), rate: share.nullable(), low: share.nullable(), high: share.nullable() };
const loss = z.number().nullable().describe('psi/min');

const checkResultSchema = z
  .strictObject({
    check: z.string(),
    measure: z.string(),
    value: measured,
    unit: z.string(),
    comparator: z.enum(COMPARATORS),
    limit: z.union([z.number(), z.tuple([z.number(), z.number()]), z.enum(['yes', 'no']), z.null()]),
    verdict: verdictSchema,
    share_of_limit: z.number().nullable().describe('1 is at the limit, above 1 beyond it'),
    chance_within_limit: share.nullable().describe('JCGM 106 conformance probability, from the readability of the gauge'),
    reason: z.string(),
    citation: z.string(),
    status: z.enum(STATUSES),
  })
  .meta({ id: 'CheckResult' });

const inspectionResultSchema = z
  .strictObject({
    row: z.int(),
    inspection_id: z.string().nullable(),
    inspected_on: z.string().nullable(),
    unit: z.string().nullable(),
    verdict: verdictSchema,
    reason: z.string(),
    measures: z.record(z.string(), measured),
    checks: z.array(checkResultSchema),
  })
  .meta({ id: 'InspectionResult' });

const unitSchema = z
  .strictObject({
    unit: z.string(),
    vehicle_kind: z.string().nullable(),
    site: z.string().nullable(),
    inspections: z.int(),
    failed: z.int(),
    latest_on: z.string().nullable(),
    latest_verdict: verdictSchema.nullable(),
    latest_released_loss: loss,
    latest_applied_loss: loss,
    share_now: z.number().nullable().describe('share of a leak\'s limit at the latest inspection that has one'),
    worst_released_loss: loss,
    worst_applied_loss: loss,
    worst_share: z.number().nullable(),
  })
  .meta({ id: 'UnitSummary' });

const monthSchema = z
  .strictObject({
    month: z.string(),
    inspections: z.int(),
    ...failRate,
    released_loss_median: loss,
    released_loss_p90: loss,
    applied_loss_median: loss,
    applied_loss_p90: loss,
  })
  .meta({ id: 'MonthSummary' });

const groupSchema = z.strictObject({ group: z.enum(FAIL_RATE_GROUPS), name: z.string(), ...failRate }).meta({ id: 'GroupFailRate' });

const problemSchema = z
  .strictObject({
    code: z.string(),
    sheet: z.string(),
    row: z.int().nullable(),
    column: z.string(),
    cell: z.string(),
    found: z.string(),
    expected: z.string(),
  })
  .meta({ id: 'Problem' });

/** The object that `treadlebook evaluate --json` prints, version 1. */
export const evaluationSchema = z
  .strictObject({
    format: z.literal('treadlebook-evaluation'),
    version: z.literal(1),
    limit_set: z.strictObject({ id: z.string(), title: z.string(), sha256: z.string() }),
    source: z.strictObject({ name: z.string(), sha256: z.string(), rows_read: z.int(), rows_blank: z.int(), inspections: z.int() }),
    inspections: z.array(inspectionResultSchema),
    units: z.array(unitSchema),
    trend: z.array(monthSchema),
    fail_rates: z.array(groupSchema),
    problems: z.array(problemSchema),
  })
  .meta({ id: 'Evaluation', title: 'An evaluated fleet' });
