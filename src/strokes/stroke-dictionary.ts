import { z } from 'zod';
import type { Dictionary } from '../readings/dictionary.js';
import { fieldSchema, nameSchema } from '../readings/field.js';
import { readPackageJsonFile } from '../util/read-package-json-file.js';
import { STROKE_FIELDS } from './stroke.js';

const fileSchema = z
  .strictObject({ groups: z.array(z.strictObject({ group: nameSchema, title: z.string().min(1) })), fields: z.array(fieldSchema) })
  .refine(({ fields }) => fields.map(({ name }) => name).join() === STROKE_FIELDS.join(), { message: `the fields must be ${STROKE_FIELDS.join(', ')}, in this order` });

let shipped: Dictionary | undefined;

/**
 * The columns of the table of strokes as shipped in `workbooks/strokes.json`: one row per brake chamber.
 *
 * @example strokeDictionary().fields[8].name // 'stroke'
 */
export function strokeDictionary(): Dictionary {
  if (shipped) return shipped;
  const { groups, fields } = fileSchema.parse(readPackageJsonFile('workbooks', 'strokes.json'));
  return (shipped = { groups, fields, standardCount: fields.length, sheetOrder: fields.map((_, index) => index), position: new Map(fields.map(({ name }, index) => [name, index])) });
}
