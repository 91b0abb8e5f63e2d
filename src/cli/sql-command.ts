import { SQL_DIALECTS } from '../expressions/sql-dialect.js';
import { EXIT } from './exit-codes.js';
import { parseCommand, usage } from './parse-command.js';
import { writeOut, type Terminal } from './terminal.js';

const OPTIONS = { limits: { type: 'string' }, dialect: { type: 'string' }, table: { type: 'string' } } as const;

/** `treadlebook sql`: prints a script that evaluates a readings table inside a database. */
export async function sqlCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values } = parseCommand('sql', args, OPTIONS, { least: 0, most: 0, what: '' });
  const dialect = SQL_DIALECTS.find((name) => name === values['dialect']);
  if (dialect === undefined) throw dialectMissing(values['dialect'] as string | undefined);
  const { planOf } = await import('../workbook/plan-for.js');
  const { sqlScript } = await import('../sql/sql-script.js');
  await writeOut(terminal, [sqlScript(planOf(values['limits'] as string | undefined), { dialect, table: values['table'] as string | undefined })]);
  return EXIT.done;
}

function dialectMissing(given: string | undefined): Error {
  return usage('sql', given === undefined ? '--dialect is missing' : `--dialect ${JSON.stringify(given.slice(0, 60))} is not known`, `name one of ${SQL_DIALECTS.join(', ')}`);
}
