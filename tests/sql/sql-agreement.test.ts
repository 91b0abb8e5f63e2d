import { afterAll, describe, expect, it } from 'vitest';
import { DIALECTS } from '../../src/expressions/sql-dialect.js';
import type { Value } from '../../src/expressions/value.js';
import { compileLimitSet, type LimitPlan } from '../../src/limits/compile-limit-set.js';
import { limitSetOf } from '../../src/limits/limit-set-of.js';
import { limitSetIds } from '../../src/limits/load-limit-set.js';
import { VERDICTS } from '../../src/limits/verdict.js';
import { shortName } from '../../src/sql/short-name.js';
import { openEngine, type SqlEngine } from '../support/sql-engines.js';
import { evaluated, isSame, loadRows } from './evaluate-in-sql.js';
import { randomRows } from './random-inspections.js';

const SEED = 20_260_601;
/** Sets that are tried with more rows: several together, one in kPa, and one with alternatives and routes. */
const LONGER = ['us-nevada,us-new-hampshire', 'ca-ontario', 'us-federal-in-service'];
const ROWS = { each: 30, longer: 300 } as const;

interface Difference {
  readonly row: number;
  readonly column: string;
  readonly program: Value;
  readonly sql: unknown;
}

/** Every cell of every computed column that the database has otherwise than the program. */
async function differences(engine: SqlEngine, plan: LimitPlan, count: number): Promise<Difference[]> {
  const dialect = DIALECTS[engine.dialect];
  const rows = randomRows(plan, count, SEED);
  await loadRows(engine, plan, rows);
  const evaluations = evaluated(plan, rows);
  const found = await engine.rows('SELECT * FROM inspections ORDER BY inspection_id');
  expect(found.length).toBe(count);
  // What is compared is worth it: every verdict occurs.
  if (count >= ROWS.longer) expect([...new Set(evaluations.flatMap(({ checks }) => checks.map(({ verdict }) => verdict)))].sort()).toStrictEqual([...VERDICTS].sort());
  return evaluations.flatMap(({ computed }, row) =>
    plan.columns.flatMap(({ name }, column) => {
      const sql = found[row]![shortName(name, dialect)];
      return isSame(computed[column]!, sql) ? [] : [{ row, column: name, program: computed[column]!, sql }];
    }),
  );
}

describe.each(['duckdb', 'postgres'] as const)('the view inspections in %s', (name) => {
  let engine: Promise<SqlEngine> | undefined;
  afterAll(async () => (await engine)?.close());

  it.for([...limitSetIds().map((id) => [id, LONGER.includes(id) ? ROWS.longer : ROWS.each] as const), [LONGER[0]!, ROWS.longer] as const])('has what the program computes: %s, %i rows', { timeout: 120_000 }, async ([id, count], context) => {
    const plan = compileLimitSet(limitSetOf(id));
    expect((await differences(await (engine ??= openEngine(name, context)), plan, count)).slice(0, 12)).toStrictEqual([]);
  });
});
