import { z } from 'zod';
import { nameSchema } from '../readings/field.js';
import { readPackageJsonFile } from '../util/read-package-json-file.js';

/** One step of the walk through the cab. */
export const cabStepSchema = z.strictObject({
  step: nameSchema,
  title: z.string().min(1).max(40),
  /** True for a step that is printed whether a reading is needed in it or not. */
  always: z.boolean().default(false),
  words: z.string().min(1).max(300),
  /** What is said more where the step has a reading. */
  when_read: z.string().min(1).max(300).optional(),
  /** The readings that are taken in it, by their names, in the order of the boxes. */
  readings: z.array(nameSchema),
});

const fileSchema = z.strictObject({ status: z.literal('common practice'), source: z.string().min(1), steps: z.array(cabStepSchema).min(1) });

/** One step of the walk through the cab, see {@link cabStepSchema}. */
export type CabStep = z.output<typeof cabStepSchema>;

/** The steps in a safe order, and where that order comes from. */
export interface CabSteps {
  readonly status: 'common practice';
  readonly source: string;
  readonly steps: readonly CabStep[];
}

let read: CabSteps | undefined;

/** The steps of an in-cab test as `workbooks/cab-steps.json` has them. */
export function cabSteps(): CabSteps {
  return (read ??= fileSchema.parse(readPackageJsonFile('workbooks', 'cab-steps.json')));
}
