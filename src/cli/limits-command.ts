import { plainLine } from '../util/plain-line.js';
import { EXIT, EXIT_OF_ERROR } from './exit-codes.js';
import { limitListLines } from './limit-list-lines.js';
import { parseCommand } from './parse-command.js';
import { bold, writeOut, type Terminal } from './terminal.js';
import { TreadlebookError } from '../util/treadlebook-error.js';

/** `treadlebook limits`: lists the sets, shows one, or checks a file. */
export async function limitsCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, words } = parseCommand('limits', args, { json: { type: 'boolean' } }, { least: 0, most: 1, what: '' });
  const { loadLimitSet, limitSetIds, DEFAULT_LIMIT_SET } = await import('../limits/load-limit-set.js');
  const json = values['json'] === true;
  if (words.length === 0) {
    const sets = limitSetIds().map((id) => loadLimitSet(id));
    const lines = json
      ? [`${JSON.stringify(sets.map(({ id, title, authority }) => ({ id, title, authority, default: id === DEFAULT_LIMIT_SET })))}\n`]
      : limitListLines(sets, DEFAULT_LIMIT_SET, (text) => bold(terminal.out, text)).map((line) => `${line}\n`);
    await writeOut(terminal, lines);
    return EXIT.done;
  }
  const { planOf } = await import('../workbook/plan-for.js');
  const name = words[0]!;
  try {
    const plan = planOf(name);
    if (json) {
      await writeOut(terminal, [`${JSON.stringify({ ...plan.set, sha256: plan.sha256 })}\n`]);
    } else {
      const { limitSetLines } = await import('./limit-set-lines.js');
      await writeOut(terminal, limitSetLines(plan).map((line) => `${plainLine(line)}\n`));
    }
    return EXIT.done;
  } catch (error) {
    if (!(error instanceof TreadlebookError) || error.code !== 'limit_set_invalid') throw error;
    terminal.err.write(`treadlebook: ${error.message}\n`);
    return /\.json$/i.test(name) ? EXIT.found : EXIT_OF_ERROR[error.code];
  }
}
