import { describe, expect, it } from 'vitest';
import { DIALECTS } from '../../src/expressions/sql-dialect.js';
import { SqlLayers } from '../../src/expressions/sql-layers.js';
import { sql, sqlColumn, sqlConstant, sqlJoin, withBlank } from '../../src/expressions/sql-part.js';
import { sqlValue, toSql } from '../../src/expressions/to-sql.js';
import { call } from '../../src/expressions/call.js';
import { constant, nameOf, type Tree } from '../../src/expressions/tree.js';

const [a, b] = [sqlColumn('"a"'), sqlColumn('"b"', false)];
const three = sqlConstant(3, DIALECTS.duckdb);

describe('a piece of SQL', () => {
  it('mentions the columns of its pieces, and can be NULL where one of them can', () => {
    expect(sql`(${a} + ${b} * ${2} || ${'x'})`).toStrictEqual({ text: '("a" + "b" * 2 || x)', mayBeBlank: true, isPlain: false, columns: new Set(['"a"', '"b"']) });
    expect(sql`abs(${b})`).toStrictEqual({ text: 'abs("b")', mayBeBlank: false, isPlain: false, columns: new Set(['"b"']) });
    expect(sqlJoin([a, b, three], ', ')).toStrictEqual({ text: '"a", "b", 3e0', mayBeBlank: true, isPlain: false, columns: new Set(['"a"', '"b"']) });
    expect(sqlJoin([b, three], ' AND ')).toMatchObject({ mayBeBlank: false, isPlain: false });
  });

  it('is plain where it is a column or a constant', () => {
    expect(a).toStrictEqual({ text: '"a"', mayBeBlank: true, isPlain: true, columns: new Set(['"a"']) });
    expect(b.mayBeBlank).toBe(false);
    expect(three).toStrictEqual({ text: '3e0', mayBeBlank: false, isPlain: true, columns: new Set(), number: 3 });
    expect([sqlConstant("it's", DIALECTS.duckdb), sqlConstant(true, DIALECTS.duckdb), sqlConstant(false, DIALECTS.duckdb)]).toStrictEqual(["'it''s'", 'TRUE', 'FALSE'].map((text) => ({ text, mayBeBlank: false, isPlain: true, columns: new Set() })));
  });

  it('can be told to be NULL or not', () => {
    expect([withBlank(b, true), withBlank(a, false)]).toStrictEqual([{ ...b, mayBeBlank: true }, { ...a, mayBeBlank: false }]);
  });

  it('of what is known is a constant, and a blank is a NULL of its type', () => {
    const dialect = { dialect: DIALECTS.postgres };
    expect([sqlValue(2, 'number', dialect).text, sqlValue('x', 'text', dialect).text, sqlValue(false, 'truth', dialect).text]).toStrictEqual(["float8 '2'", "'x'", 'FALSE']);
    expect([sqlValue(null, 'number', dialect), sqlValue(null, 'text', dialect), sqlValue(null, 'truth', dialect)]).toStrictEqual(['DOUBLE PRECISION', 'TEXT', 'BOOLEAN'].map((type) => ({ text: `CAST(NULL AS ${type})`, mayBeBlank: true, isPlain: true, columns: new Set() })));
  });

  it('of a tree without names is worked out beforehand', () => {
    const layers = new SqlLayers(DIALECTS.duckdb);
    expect(toSql(call('divide', constant(1), constant(0)), () => a, layers).text).toBe('CAST(NULL AS DOUBLE)');
    expect(toSql(call('sqrt', constant(16)), () => a, layers).text).toBe('4e0');
    expect(toSql(constant('x'), () => a, layers).text).toBe("'x'");
    expect(toSql(nameOf('n', 'number'), () => b, layers)).toBe(b);
    expect(layers.size).toBe(0);
  });
});

describe('whether the SQL of an operator can be NULL', () => {
  const mayBeBlank = (tree: Tree, blankable: boolean): boolean => toSql(tree, (name) => sqlColumn(`"${name}"`, blankable), new SqlLayers(DIALECTS.duckdb)).mayBeBlank;
  const [x, y] = [nameOf('x', 'number'), nameOf('y', 'number')];
  const [s, t] = [nameOf('s', 'text'), nameOf('t', 'text')];
  const p = nameOf('p', 'truth');

  // Arithmetic can overflow, and a quotient has no value at zero, whatever its operands are.
  it.each<[string, Tree]>([
    ['a sum', call('add', x, y)],
    ['a difference', call('subtract', x, y)],
    ['a product', call('multiply', x, y)],
    ['a product with a large number', call('multiply', x, constant(2))],
    ['a quotient', call('divide', x, y)],
    ['a quotient by a small number', call('divide', x, constant(0.5))],
    ['a power', call('power', x, y)],
    ['an exponential', call('exp', x)],
    ['a root', call('sqrt', x)],
    ['a logarithm', call('ln', x)],
    ['a root of squares', call('root_of_squares', x, y)],
    ['what holds only under a condition', call('only_if', p, x)],
  ])('%s can, though its operands cannot', (_what, tree) => {
    expect(mayBeBlank(tree, false)).toBe(true);
  });

  it.each<[string, Tree]>([
    ['a product with a small number', call('multiply', x, constant(0.5))],
    ['a quotient by a large number', call('divide', x, constant(2))],
    ['a comparison', call('less', x, y)],
    ['and', call('and', p, p)],
    ['the larger', call('max', x, y)],
    ['a choice', call('choose', p, x, y)],
    ['what is rounded', call('round', x, constant(1))],
    ['a joined text', call('join', s, t)],
  ])('%s can where its operands can, and else cannot', (_what, tree) => {
    expect([mayBeBlank(tree, true), mayBeBlank(tree, false)]).toStrictEqual([true, false]);
  });

  it('whether something is given, or reads so, is always known', () => {
    expect([mayBeBlank(call('given', x), true), mayBeBlank(call('reads', s, t), true)]).toStrictEqual([false, false]);
  });

  it('one or else another can where both can', () => {
    const orElse = (first: boolean, second: boolean): boolean => toSql(call('or_else', x, y), (name) => sqlColumn(name, name === 'x' ? first : second), new SqlLayers(DIALECTS.duckdb)).mayBeBlank;
    expect([orElse(true, true), orElse(true, false), orElse(false, true), orElse(false, false)]).toStrictEqual([true, false, false, false]);
  });
});

describe('columns in levels', () => {
  it('has each piece once, and a column or a constant as it is', () => {
    const layers = new SqlLayers(DIALECTS.duckdb);
    expect([layers.once(a), layers.once(three)]).toStrictEqual([a, three]);
    expect(layers.size).toBe(0);
    const sum = layers.once(sql`("a" + ${b})`);
    expect(sum).toStrictEqual({ text: '"step.1"', mayBeBlank: false, isPlain: true, columns: new Set(['"step.1"']) });
    expect(layers.once(sql`("a" + ${b})`)).toBe(sum);
    expect(layers.once(sql`(${a} - ${b})`)).toMatchObject({ text: '"step.2"', mayBeBlank: true });
    expect(layers.size).toBe(2);
  });

  it('finds a piece again that was given a name', () => {
    const layers = new SqlLayers(DIALECTS.duckdb);
    const named = layers.define('sum', sql`(${a} + ${b})`);
    expect(layers.once(sql`(${a} + ${b})`)).toBe(named);
    // The first name stays the one that is found.
    layers.define('again', sql`(${a} + ${b})`);
    expect(layers.once(sql`(${a} + ${b})`)).toBe(named);
    expect(layers.size).toBe(2);
  });

  it('stands one level above the highest that it mentions', () => {
    const layers = new SqlLayers(DIALECTS.duckdb);
    const sum = layers.define('sum', sql`(${a} + ${b})`);
    layers.define('twice', sql`(${sum} * ${2})`);
    layers.define('b twice', sql`(${b} * ${2})`);
    layers.define('all', sql`(${a} + ${sum})`);
    expect(layers.query('SELECT * FROM t', ['"a"', '"all"'])).toBe(
      [
        'WITH level_0 AS (\nSELECT * FROM t\n)',
        'level_1 AS (\nSELECT level_0.*,\n  ("a" + "b") AS "sum",\n  ("b" * 2) AS "b twice"\nFROM level_0\n)',
        'level_2 AS (\nSELECT level_1.*,\n  ("sum" * 2) AS "twice",\n  ("a" + "sum") AS "all"\nFROM level_1\n)\nSELECT\n  "a",\n  "all"\nFROM level_2',
      ].join(',\n'),
    );
  });

  it('is a query of the table alone where nothing is defined; a level ends with what the dialect fences it by', () => {
    expect(new SqlLayers(DIALECTS.duckdb).query('SELECT 1', ['"a"'])).toBe('WITH level_0 AS (\nSELECT 1\n)\nSELECT\n  "a"\nFROM level_0');
    const fenced = new SqlLayers(DIALECTS.postgres);
    fenced.define('x', a);
    expect(fenced.query('SELECT 1', ['"x"'])).toBe('WITH level_0 AS (\nSELECT 1 OFFSET 0\n),\nlevel_1 AS (\nSELECT level_0.*,\n  "a" AS "x"\nFROM level_0 OFFSET 0\n)\nSELECT\n  "x"\nFROM level_1');
  });
});
