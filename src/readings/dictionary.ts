import { z } from 'zod';
import { readPackageJsonFile } from '../util/read-package-json-file.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { fieldSchema, HALF_WIDTH, nameSchema, type Field } from './field.js';

const groupSchema = z.strictObject({ group: nameSchema, title: z.string().min(1) });
const fileSchema = z.strictObject({ groups: z.array(groupSchema), fields: z.array(fieldSchema) });

/** A band of the readings table, such as "Governor". */
export interface FieldGroup {
  readonly group: string;
  readonly title: string;
}

/** All columns of the readings table: those of every table first, then the optional ones, marked `when_used` or half-widths. */
export interface Dictionary {
  readonly groups: readonly FieldGroup[];
  readonly fields: readonly Field[];
  /** How many of the fields are columns of every table; the rest are optional. */
  readonly standardCount: number;
  /** Positions of all fields in the order of a sheet: each optional column at its place among the others. */
  readonly sheetOrder: readonly number[];
  /** Position of a field by name. */
  readonly position: ReadonlyMap<string, number>;
}

let builtIn: Dictionary | undefined;

/**
 * The columns of the readings table as shipped in `workbooks/readings.json`, with the columns that a
 * limit set adds of its own.
 *
 * @throws TreadlebookError `limit_set_invalid` when an added column has the name of one that exists.
 * @example fieldDictionary().fields[0].name // 'inspection_id'
 */
export function fieldDictionary(added: readonly Field[] = []): Dictionary {
  if (added.length === 0) return (builtIn ??= assemble([]));
  return assemble(added);
}

function assemble(added: readonly Field[]): Dictionary {
  const file = fileSchema.parse(readPackageJsonFile('workbooks', 'readings.json'));
  const own = new Set(added.map(({ name }) => name));
  // A column that a set adds goes before an optional one of its name.
  const inOrder = [...file.fields.filter((field) => !field.when_used || !own.has(field.name)), ...added];
  const standard = inOrder.filter((field) => !field.when_used);
  const fields = [...standard, ...inOrder.filter((field) => field.when_used), ...inOrder.filter((field) => field.spread).map(halfWidthField)];
  const position = new Map<string, number>();
  for (const [index, field] of fields.entries()) {
    if (position.has(field.name)) {
      throw new TreadlebookError({
        code: 'limit_set_invalid',
        where: `columns, ${field.name}`,
        what: 'a column of this name exists already',
        mend: 'give the added column a name of its own',
      });
    }
    position.set(field.name, index);
  }
  const hasAdded = added.some((field) => !file.groups.some((group) => group.group === field.group));
  const groups = hasAdded ? [...file.groups, { group: 'added', title: 'Added columns' }] : file.groups;
  const sheetOrder = inOrder.flatMap(({ name, spread }) => (spread ? [name, name + HALF_WIDTH] : [name]).map((one) => position.get(one)!));
  return { groups, fields, standardCount: standard.length, sheetOrder, position };
}

function halfWidthField(field: Field): Field {
  return {
    name: field.name + HALF_WIDTH,
    group: field.group,
    kind: 'pressure',
    title: `${field.title}, half-width`,
    help: 'Half the width of the range that was written for this reading, in the pressure unit of the row.',
    spellings: [],
    width: 9,
  };
}

/** The name of the reading that a half-width belongs to; the name itself of any other column. */
export function baseName(name: string): string {
  return name.endsWith(HALF_WIDTH) ? name.slice(0, -HALF_WIDTH.length) : name;
}

/** The position of a field that must exist. */
export function fieldPosition(dictionary: Dictionary, name: string): number {
  const index = dictionary.position.get(name);
  if (index === undefined) throw new TreadlebookError({ code: 'defect', what: `no field is named ${name}` });
  return index;
}
