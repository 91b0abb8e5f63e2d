import { OPERATORS, type Operator } from './operators.js';
import { sqlConstant, type SqlContext, type SqlPart } from './sql-part.js';
import { toFunction } from './to-function.js';
import { namesIn, type Tree, type Value, type ValueType } from './tree.js';

/** Gives the piece of SQL that stands for a name: a column, or a constant. */
export type SqlReference = (name: string) => SqlPart;

/**
 * Compiles a tree to a piece of SQL that is NULL where the function from `toFunction` gives null.
 *
 * @example toSql(tree, reference, layers).text // '("a" < 3e0)'
 */
export function toSql(tree: Tree, reference: SqlReference, context: SqlContext): SqlPart {
  switch (tree.kind) {
    case 'constant':
      return sqlConstant(tree.value, context.dialect);
    case 'name':
      return reference(tree.name);
    case 'call': {
      // A database works constants out beforehand, and may raise an error of it.
      if (namesIn(tree).size === 0) return sqlValue(toFunction(tree, () => 0)([]), tree.type, context);
      const operator: Operator = OPERATORS[tree.operator];
      return operator.sql(tree.args.map((arg) => toSql(arg, reference, context)), context);
    }
  }
}

/** A value that is known, as a constant; a blank as a NULL of its type. */
export function sqlValue(value: Value, type: ValueType, { dialect }: Pick<SqlContext, 'dialect'>): SqlPart {
  if (value !== null) return sqlConstant(value, dialect);
  const types: Readonly<Record<ValueType, string>> = { number: dialect.double, text: dialect.text, truth: 'BOOLEAN' };
  return { text: `CAST(NULL AS ${types[type]})`, mayBeBlank: true, isPlain: true, columns: new Set() };
}
