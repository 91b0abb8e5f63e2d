import { z } from 'zod';
import type { Dictionary } from './dictionary.js';
import type { Field } from './field.js';

/**
 * The schema of one inspection in a JSON file, made from the field dictionary. Every value may also be a text as people
 * write it (`"104 psi"`, `"1:00"`); keys that are not ours are kept.
 */
export function inspectionSchema(dictionary: Dictionary): z.ZodType<Record<string, unknown>> {
  const members = dictionary.fields.map((field) => {
    const value = valueSchema(field).describe(`${field.title}. ${field.help}`);
    return [field.name, field.required ? value : value.nullable().optional()] as const;
  });
  return z.looseObject(Object.fromEntries(members)).meta({ id: 'Inspection', title: 'One inspection: one unit on one date' });
}

function valueSchema(field: Field): z.ZodType {
  switch (field.kind) {
    case 'text':
      return z.union([z.string(), z.number()]);
    case 'date':
      return z.union([z.iso.date(), z.string()]);
    case 'choice':
      return z.union([z.enum(field.choices as [string, ...string[]]), z.string()]);
    case 'yes_no':
      return z.union([z.boolean(), z.string()]);
    case 'count':
      return z.union([z.int(), z.string()]);
    case 'quantity':
    case 'pressure':
      return z.union([z.number().min(0), z.string()]);
    case 'time':
      return z.union([z.number().min(0).describe('seconds'), z.string()]);
  }
}
