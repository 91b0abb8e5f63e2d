import { DIALECTS } from '../../src/expressions/sql-dialect.js';
import { SqlLayers } from '../../src/expressions/sql-layers.js';
import { sqlColumn } from '../../src/expressions/sql-part.js';
import { toSql } from '../../src/expressions/to-sql.js';
import type { Tree, Value, ValueType } from '../../src/expressions/tree.js';
import type { SqlEngine } from '../support/sql-engines.js';
import { COLUMNS } from './readings-in-cells.js';

/** A tree and the row that it is worked out over. */
export interface Sample {
  readonly tree: Tree;
  readonly slots: readonly Value[];
}

/** The value of each tree over its own row, in one query of a database. */
export async function valuesIn(engine: SqlEngine, samples: readonly Sample[]): Promise<unknown[]> {
  const dialect = DIALECTS[engine.dialect];
  const types: Readonly<Record<ValueType, string>> = { number: dialect.double, text: dialect.text, truth: 'BOOLEAN' };
  const literal = (value: Value): string => (value === null ? 'NULL' : typeof value === 'number' ? dialect.number(value) : typeof value === 'string' ? dialect.quote(value) : String(value));
  const values: unknown[] = [];
  await engine.run(`DROP TABLE IF EXISTS sample; CREATE TABLE sample (id INTEGER, ${COLUMNS.map(({ name, type }) => `${dialect.identifier(name)} ${types[type]}`).join(', ')});
    INSERT INTO sample VALUES ${samples.map(({ slots }, index) => `(${index}, ${slots.map(literal).join(', ')})`).join(', ')};`);
  const queries = samples.map((sample, index) => {
    const layers = new SqlLayers(dialect);
    const result = dialect.identifier('result');
    layers.define('result', toSql(sample.tree, (name) => sqlColumn(dialect.identifier(name)), layers));
    return `SELECT ${index} AS id, ${sample.tree.type === 'truth' ? `CASE WHEN ${result} THEN 1 WHEN NOT ${result} THEN 0 END` : result} AS value FROM (${layers.query(`SELECT * FROM sample WHERE id = ${index}`, [result])}) AS only_one`;
  });
  for (const type of ['number', 'text', 'truth'] as const) {
    const own = queries.filter((_, index) => samples[index]!.tree.type === type);
    if (own.length === 0) continue;
    for (const { id, value } of await engine.rows(own.join(' UNION ALL '))) values[id as number] = type === 'truth' && value !== null ? Number(value) === 1 : value;
  }
  return values;
}
