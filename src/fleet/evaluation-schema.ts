import { z } from 'zod';
import { COMPARATORS, STATUSES } from '../limits/limit-set.js';
import { SEVERITIES } from '../limits/severity.js';
import { VERDICTS } from '../limits/verdict.js';
import { baselineSchema } from './baseline-schema.js';
import { fleetSchema, groupSchema, periodSchema, priorSchema } from './fleet-schema.js';
import { PERIOD_LENGTHS } from './period-summary.js';
import { date, openPeriod, share } from './schema-parts.js';
import { openWorkSchema, unitSchema } from './unit-schema.js';

const measured = z.union([z.number(), z.string(), z.boolean(), z.null()]);
const verdictSchema = z.enum(VERDICTS);

const checkResultSchema = z
  .strictObject({
    limit_set: z.string().describe('the identifier of the limit set that the check is of'),
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
    severity: z.enum(SEVERITIES).nullable().describe('how grave it is to be outside the limit; null where the set does not say'),
  })
  .meta({ id: 'CheckResult' });

const limitSetNamed = z.strictObject({ id: z.string(), title: z.string(), sha256: z.string() });

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
    borders: z.strictObject({ verdicts: z.record(z.string(), verdictSchema), disagreement: z.string().nullable() }).optional().describe('with several limit sets: the verdict under each, and where they disagree'),
  })
  .meta({ id: 'InspectionResult' });

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

const SOURCE = z.strictObject({ name: z.string(), sha256: z.string(), rows_read: z.int(), rows_blank: z.int(), inspections: z.int() });

/** The object that `treadlebook evaluate --json` prints, version 1. */
export const evaluationSchema = z
  .strictObject({
    format: z.literal('treadlebook-evaluation'),
    version: z.literal(1),
    limit_set: limitSetNamed.describe('the main one where there are several'),
    limit_sets: z.array(limitSetNamed),
    source: SOURCE.extend({ files: z.array(SOURCE).describe('Where several tables were read as one: each, in its order. Rows count on from one to the next.').optional() }),
    inspections: z.array(inspectionResultSchema),
    period: z.strictObject({ ...openPeriod, by: z.enum(PERIOD_LENGTHS) }).describe('which inspections the trend and the rates count; null is open'),
    counted_to: date.describe('the day to which days open and overdue are counted'),
    units: z.array(unitSchema),
    trend: z.array(periodSchema),
    fail_rates: z.array(groupSchema),
    priors: z.array(priorSchema),
    open_work: z.array(openWorkSchema),
    fleet: fleetSchema,
    baseline: baselineSchema.optional().describe('set beside an earlier table'),
    problems: z.array(problemSchema),
  })
  .meta({ id: 'Evaluation', title: 'An evaluated fleet' });
