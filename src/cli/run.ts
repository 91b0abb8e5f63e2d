import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { EXIT, EXIT_OF_ERROR } from './exit-codes.js';
import { COMMANDS, helpText } from './help.js';
import { writeOut, type Terminal } from './terminal.js';
import { unexpectedFault } from './unexpected-fault.js';

type Command = (args: readonly string[], terminal: Terminal) => Promise<number>;

/** Each command is loaded when it is called for. */
const LOADERS: Readonly<Record<string, () => Promise<Command>>> = {
  evaluate: async () => (await import('./evaluate-command.js')).evaluateCommand,
  blank: async () => (await import('./blank-command.js')).blankCommand,
  compare: async () => (await import('./compare-command.js')).compareCommand,
  verify: async () => (await import('./verify-command.js')).verifyCommand,
  report: async () => (await import('./report-command.js')).reportCommand,
  limits: async () => (await import('./limits-command.js')).limitsCommand,
  fields: async () => (await import('./fields-command.js')).fieldsCommand,
  sql: async () => (await import('./sql-command.js')).sqlCommand,
  hold: async () => (await import('./hold-command.js')).holdCommand,
};

/** Runs the program and gives its exit code. Every error ends in one line on standard error. */
export async function run(args: readonly string[], streams: { readonly out: NodeJS.WriteStream; readonly err: NodeJS.WriteStream }): Promise<number> {
  const terminal: Terminal = { ...streams, quiet: args.includes('--quiet') || args.includes('-q') };
  try {
    return await dispatch(args, terminal);
  } catch (error) {
    if (error instanceof TreadlebookError) {
      streams.err.write(`treadlebook: ${error.message}\n`);
      return EXIT_OF_ERROR[error.code];
    }
    const { words, code } = unexpectedFault(error);
    streams.err.write(`treadlebook: ${words}\n`);
    if (process.env['TREADLEBOOK_DEBUG'] && error instanceof Error) streams.err.write(`${error.stack}\n`);
    return code;
  }
}

async function dispatch(args: readonly string[], terminal: Terminal): Promise<number> {
  const [name, ...rest] = args;
  if (name === '--version' || name === '-V') {
    const { programVersion } = await import('../workbook/program-version.js');
    await writeOut(terminal, [`${programVersion()}\n`]);
    return EXIT.done;
  }
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    const text = helpText(COMMANDS.includes(rest[0] ?? '') ? rest[0] : undefined);
    if (name === undefined) terminal.err.write(text);
    else await writeOut(terminal, [text]);
    return name === undefined ? EXIT.usage : EXIT.done;
  }
  const load = Object.hasOwn(LOADERS, name) ? LOADERS[name] : undefined;
  if (!load) {
    const near = nearestName(name, COMMANDS);
    throw new TreadlebookError({ code: 'usage', what: `there is no command ${JSON.stringify(name.slice(0, 60))}`, mend: near ? `did you mean ${near}?` : `the commands are ${COMMANDS.join(', ')}` });
  }
  if (rest.includes('--help') || rest.includes('-h')) {
    await writeOut(terminal, [helpText(name)]);
    return EXIT.done;
  }
  return (await load())(rest, terminal);
}
