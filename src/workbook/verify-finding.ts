import { z } from 'zod';

/** What can be found in a workbook that is not as it should be, and what each means. */
export const FINDINGS = {
  not_recalculated: 'Formulas without a stored value: the workbook was saved by a program that computes nothing',
  stored_value_differs: 'The stored value is not what the entries and limits of this workbook give',
  formula_replaced: 'A value was typed where a formula belongs',
  formula_changed: 'The formula is not the one that belongs here',
  formula_added: 'A formula stands where a fixed number or text belongs',
  row_without_formulas: 'An inspection without formulas: nothing is evaluated in its row',
  row_not_counted: 'An inspection outside the ranges that Units and Fail rates count',
  limit_changed: 'The limit is not the one of the limit set',
  fact_changed: 'A number that the computation rests on is not the one that the program has',
  limit_set_changed: 'The limit set that the workbook was made with is not the one now known under this name',
  limit_set_other: 'The workbook names another limit set than the one it was held against',
  program_differs: 'Another version of the program wrote this workbook; formulas and words may differ for that reason alone',
  rows_added: 'There are more inspections than when the workbook was written',
  rows_deleted: 'There are fewer inspections than when the workbook was written',
  entries_changed: 'The entries are not the ones that the workbook was written with; a correction shows like this too',
  counts_changed: 'The counts on Provenance do not add up among themselves',
  line_missing: 'A line is missing',
  line_added: 'A line stands here that the inspections do not give',
  text_changed: 'A fixed text or number was changed',
  columns_changed: 'The columns beside those of the program are not the ones that the workbook was written with',
  column_missing: 'A column is missing',
  sheet_missing: 'A sheet is missing',
  hidden_rows: 'Rows do not show',
  hidden_columns: 'Columns do not show',
  hidden_sheet: 'A sheet does not show',
  left_alone: 'The workbook reaches beyond its cells; nothing was run or fetched',
  name_changed: 'A defined name does not point where it should',
} as const;

/** The stable code of a finding. */
export type FindingCode = keyof typeof FINDINGS;

/** The codes, in the order in which findings are told. */
export const FINDING_CODES = Object.keys(FINDINGS) as readonly FindingCode[] as readonly [FindingCode, ...FindingCode[]];

/** One thing in a workbook that is not as it should be. */
export const findingSchema = z
  .strictObject({
    code: z.enum(FINDING_CODES),
    sheet: z.string(),
    cell: z.string().describe('a cell such as AW17, a range such as AW4:AW9, or empty for the sheet as a whole'),
    column: z.string().describe('the name of the column, limit, fact or line; may be empty'),
    found: z.string(),
    expected: z.string(),
    citation: z.string().nullable().describe('the source of a limit or fact'),
  })
  .meta({ id: 'Finding', title: 'One thing in a workbook that is not as it should be' });

/** The object that `treadlebook verify --json` prints, version 1. */
export const verificationSchema = z
  .strictObject({
    format: z.literal('treadlebook-verification'),
    version: z.literal(1),
    book: z.strictObject({ name: z.string(), sha256: z.string() }),
    limit_set: z.strictObject({ id: z.string(), title: z.string(), sha256: z.string() }),
    cells_compared: z.int().min(0),
    formulas_compared: z.int().min(0),
    findings: z.array(findingSchema),
  })
  .meta({ id: 'Verification', title: 'What was found in an evaluated workbook' });

/** One thing in a workbook that is not as it should be: what, where, what was found and what was expected. */
export type Finding = z.output<typeof findingSchema>;
/** What was found in an evaluated workbook. */
export type Verification = z.output<typeof verificationSchema>;
