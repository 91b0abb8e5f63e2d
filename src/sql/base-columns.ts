import type { SqlDialect } from '../expressions/sql-dialect.js';
import { multiplySql } from '../expressions/sql-arithmetic.js';
import type { SqlLayers } from '../expressions/sql-layers.js';
import { sql, sqlColumn, sqlConstant, sqlJoin, withBlank, type SqlPart } from '../expressions/sql-part.js';
import { FILLED, PSI_FACTOR } from '../limits/check-names.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { FACTS_USED } from '../limits/facts-used.js';
import { enteredName } from '../limits/say-template.js';
import { NOT_READ, secondsName } from '../limits/working-columns.js';
import { HALF_WIDTH, type Field } from '../readings/field.js';
import { PSI_PER, type PressureUnit } from '../readings/pressure-units.js';
import { notReadColumn, readingsFields } from './readings-columns.js';

const PRESSURE_UNITS = Object.keys(PSI_PER) as PressureUnit[];

/** What stands for each name of the row program before any column is computed, and the query that it is read with. */
export interface BaseColumns {
  readonly query: string;
  /** How many columns it gives. */
  readonly size: number;
  /** The readings as they stand in the table, quoted, in order. */
  readonly readings: readonly string[];
  readonly names: ReadonlyMap<string, SqlPart>;
}

/** The readings, pressures in psi and times in seconds, and the numbers of the limit set: as `RowEvaluator` fills its slots. */
export function baseColumns(plan: LimitPlan, table: string, layers: SqlLayers): BaseColumns {
  const { dialect } = layers;
  const fields = readingsFields(plan);
  const names = new Map<string, SqlPart>();
  const quoted = (name: string): string => dialect.identifier(name);
  const selected: string[] = [];
  const select = (name: string, text: string): SqlPart => {
    selected.push(`  ${text} AS ${quoted(name)}`);
    return sqlColumn(quoted(name));
  };
  for (const field of fields) select(field.name, cleaned(field, quoted(field.name), dialect));
  const found = select('found.not_read', `coalesce(${quoted(notReadColumn(plan))}, '')`);
  for (const field of fields.filter(({ never }) => never)) select(`number.${field.name}`, dialect.plainNumber(`trim(${quoted(field.name)})`));
  for (const field of fields.filter(canBeOdd)) select(`odd.${field.name}`, `coalesce(${oddTest(field, dialect)}, FALSE)`);

  const isOdd = (name: string): SqlPart => withBlank(sqlColumn(quoted(`odd.${name}`)), false);
  const unit = fields.find(({ name }) => name === 'pressure_unit')!;
  const unitNotRead = sql`(${isOdd('pressure_unit')} OR ${found} LIKE ${sqlConstant(`% [${unit.title}]%`, dialect)})`;
  const factors = sqlJoin(PRESSURE_UNITS.map((one) => sql`WHEN ${sqlConstant(one.toLowerCase(), dialect)} THEN ${sqlConstant(PSI_PER[one], dialect)}`), ' ');
  const factor = layers.define('psi.factor', withBlank(sql`CASE WHEN ${withBlank(unitNotRead, false)} THEN NULL ELSE CASE lower(coalesce(${sqlColumn(quoted('pressure_unit'))}, 'psi')) ${factors} END END`, true));
  names.set(PSI_FACTOR, factor);
  names.set(FILLED, sqlConstant(true, dialect));
  names.set(NOT_READ, layers.define('words.not_read', notRead(fields, found, isOdd, dialect)));
  for (const field of fields) addReading(field, { names, layers, factor });
  for (const field of plan.dictionary.fields) {
    // An optional column that takes no part is blank.
    for (const name of [field.name, enteredName(field.name)]) if (!names.has(name)) names.set(name, { text: 'NULL', mayBeBlank: true, isPlain: true, columns: new Set() });
  }
  for (const { fact, value } of FACTS_USED) names.set(`fact:${fact}`, sqlConstant(value, dialect));
  for (const { name, value } of plan.cells) names.set(name, sqlConstant(value, dialect));
  return { query: `SELECT\n${selected.join(',\n')}\nFROM ${table}`, size: selected.length, readings: fields.map(({ name }) => quoted(name)), names };
}

interface Adding {
  readonly names: Map<string, SqlPart>;
  readonly layers: SqlLayers;
  readonly factor: SqlPart;
}

function addReading(field: Field, { names, layers, factor }: Adding): void {
  const { dialect } = layers;
  const column = sqlColumn(dialect.identifier(field.name));
  if (field.kind === 'pressure') {
    const entered = field.never ? sqlColumn(dialect.identifier(`number.${field.name}`)) : column;
    const inPsi = multiplySql(entered, factor, layers);
    names.set(enteredName(field.name), entered);
    names.set(field.name, layers.define(`psi.${field.name}`, field.never ? sql`CASE WHEN ${isNever(column.text)} AND ${factor} IS NOT NULL THEN ${sqlConstant(0, dialect)} ELSE ${inPsi} END` : inPsi));
    return;
  }
  const known = field.kind === 'count' ? layers.define(`count.${field.name}`, sql`CAST(${column} AS ${dialect.double})`) : column;
  names.set(field.name, field.whenBlank === undefined ? known : layers.define(`used.${field.name}`, withBlank(sql`coalesce(${known}, ${sqlConstant(field.whenBlank, dialect)})`, false)));
  if (field.kind === 'time') names.set(secondsName(field.name), known);
}

/** A reading as the table has it, without what is no reading: an empty text, a number that is none, a choice that is not offered. */
function cleaned(field: Field, column: string, dialect: SqlDialect): string {
  if (field.never || field.kind === 'text') return `nullif(${column}, '')`;
  switch (field.kind) {
    case 'choice':
      return `CASE lower(trim(${column})) ${field.choices!.map((choice) => `WHEN ${dialect.quote(choice.toLowerCase())} THEN ${dialect.quote(choice)}`).join(' ')} END`;
    case 'pressure':
    case 'time':
    case 'quantity':
      // Not a number is above every number.
      return `CASE WHEN abs(${column}) <= ${dialect.number(Number.MAX_VALUE)} THEN CASE WHEN abs(${column}) < ${dialect.number(2 ** -1022)} THEN ${dialect.number(0)} ELSE ${column} END END`;
    default:
      return column;
  }
}

/** Texts that may hold something that is not understood. All else is kept out by the type of its column. */
function canBeOdd({ kind, never }: Field): boolean {
  return kind === 'choice' || never === true;
}

function oddTest(field: Field, dialect: SqlDialect): string {
  const column = dialect.identifier(field.name);
  const isBlank = `trim(${column}) = ''`;
  if (field.never) return `NOT (${isBlank} OR ${isNever(column)} OR ${dialect.plainNumber(`trim(${column})`)} IS NOT NULL)`;
  return `NOT (${isBlank} OR lower(trim(${column})) IN (${field.choices!.map((choice) => dialect.quote(choice.toLowerCase())).join(', ')}))`;
}

function isNever(column: string): string {
  return `lower(trim(${column})) = 'never'`;
}

/** The cells that were not understood when the table was read, and those of this table that cannot be. */
function notRead(fields: readonly Field[], found: SqlPart, isOdd: (name: string) => SqlPart, dialect: SqlDialect): SqlPart {
  const words = fields.filter((field) => canBeOdd(field) && !field.name.endsWith(HALF_WIDTH)).map(({ name, title }) => {
    const own = sqlConstant(` [${title}]`, dialect);
    return sql`CASE WHEN ${isOdd(name)} AND position(${own} IN ${found}) = 0 THEN ${own} ELSE '' END`;
  });
  return withBlank(sql`nullif(${sqlJoin([found, ...words], ' || ')}, '')`, true);
}
