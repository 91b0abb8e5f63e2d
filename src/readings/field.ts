import { z } from 'zod';

/** What a field may be named: small letters, digits and underscores. */
export const nameSchema = z
  .string()
  .regex(/^[a-z][a-z0-9_]{0,59}$/)
  .describe('small letters, digits and underscores, starting with a letter');

/**
 * One word of a list from which a cell is filled. A program that offers the list types the word into the cell, so it must not start as a
 * formula does, and it parts the words at commas.
 */
export const choiceSchema = z
  .string()
  .regex(/^[^\s=+\-@'",;][^",;\u0000-\u001f]*$/)
  .describe('a word of a list: without comma, semicolon or quote, and not starting with a space, an apostrophe, =, +, - or @');

/** Plausible span of a field's values. Outside it a value is named as a problem, never changed. */
export const plausibleSchema = z
  .strictObject({
    from: z.number(),
    to: z.number(),
    unit: z.enum(['psi', 's']).optional(),
    why: z.string().min(1).max(300),
  })
  .meta({ id: 'Plausible', title: 'Plausible span, with its reason' });

/**
 * One column of the readings table. Everything that the program knows of a column stands in its entry:
 * the CSV header, the sheet's title, width and validation, the JSON Schema and the CSVW metadata come from it.
 */
export const fieldSchema = z
  .strictObject({
    name: nameSchema,
    group: nameSchema.default('added').describe('the band of the sheet in which the column stands'),
    kind: z
      .enum(['text', 'date', 'choice', 'count', 'quantity', 'pressure', 'time', 'yes_no'])
      .describe('pressure: in the pressure unit of its row; time: seconds; count: a whole number; quantity: any number not below zero'),
    title: z.string().min(1).max(60),
    label: z.string().min(1).max(60).optional().describe('a short name for use inside a sentence'),
    help: z.string().min(1).max(250),
    required: z.boolean().optional(),
    choices: z.array(choiceSchema.max(100)).min(1).max(100).optional(),
    whenBlank: z.union([z.number(), z.string()]).optional().describe('the value that a blank cell stands for'),
    plausible: plausibleSchema.optional(),
    spread: z.boolean().optional().describe('a range such as 104-108 may be written; its half-width is kept in a column <name>_half_width'),
    commaGroups: z.boolean().optional().describe('123,456 means a hundred thousand: commas part groups of three digits'),
    unitWords: z.array(z.string().min(1).max(30)).max(50).optional().describe('words that may follow the number, such as rpm'),
    never: z.boolean().optional().describe('the word never may be written'),
    when_used: z.boolean().optional().describe('true for a column that is known everywhere, but shown only where the limit set uses it or the file has it'),
    spellings: z.array(z.string().min(1).max(100)).max(200).default([]),
    width: z.number().min(4).max(80).default(12),
  })
  .meta({ id: 'Field', title: 'One column of the readings table' });

/** One column of the readings table, see {@link fieldSchema}. */
export type Field = z.output<typeof fieldSchema>;

/** The kinds of field. */
export type FieldKind = Field['kind'];

/** The suffix of the optional column that keeps the half-width of a reading written as a range. */
export const HALF_WIDTH = '_half_width';
