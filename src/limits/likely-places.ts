import { z } from 'zod';
import { nameSchema } from '../readings/field.js';
import { readPackageJsonFile } from '../util/read-package-json-file.js';
import { expressionSchema } from './measure.js';

/** A pattern of failed and passed checks, and where an experienced mechanic looks first. */
export const likelyPlaceSchema = z
  .strictObject({
    id: nameSchema,
    topic: nameSchema.describe('of the rules of one topic the first that holds is said'),
    failed: z.array(nameSchema).min(1).describe('measures of each of which a check fails'),
    failed_side: z.enum(['above', 'below']).optional().describe('the side of its limit on which each of them fails'),
    passed: z.array(nameSchema).default([]).describe('measures of each of which a check passes, and none fails or is undecided'),
    when: expressionSchema.optional().describe('what else must hold, over readings and shared measures'),
    say: z.string().min(1).max(199),
    status: z.literal('common practice'),
  })
  .meta({ id: 'LikelyPlace', title: 'Where to look first' });

/** A pattern and where to look, see {@link likelyPlaceSchema}. */
export type LikelyPlace = z.output<typeof likelyPlaceSchema>;

let places: readonly LikelyPlace[] | undefined;

/** Every rule of where to look first, from `workbooks/likely-places.json`. */
export function likelyPlaces(): readonly LikelyPlace[] {
  return (places ??= z.array(likelyPlaceSchema).parse(readPackageJsonFile('workbooks', 'likely-places.json')));
}
