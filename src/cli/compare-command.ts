import { extname } from 'node:path';
import { keyingsAgree } from '../readings/compare-inspections.js';
import { outputTarget } from '../util/output-target.js';
import type { ComparedReadings } from '../workbook/compare-readings.js';
import { capsOption } from './caps-option.js';
import { EXIT } from './exit-codes.js';
import { parseCommand, usage, type ParsedCommand } from './parse-command.js';
import { progressOn } from './progress.js';
import { refuseOwnInput } from './refuse-own-input.js';
import { standardInput } from './standard-input.js';
import { tell, writeOut, type Terminal } from './terminal.js';
import { writeOutput } from './write-output.js';

const OPTIONS = {
  output: { type: 'string', short: 'o' },
  json: { type: 'boolean' },
  'date-order': { type: 'string' },
  sheet: { type: 'string' },
  caps: { type: 'string' },
  force: { type: 'boolean' },
} as const;

/** `treadlebook compare`: says cell by cell where two keyings of the same paper differ. */
export async function compareCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, words } = parseCommand('compare', args, OPTIONS, { least: 2, most: 2, what: 'one of the two files to compare, A and B,' });
  const settings = settingsOf(values, words);
  const force = values['force'] === true;
  if (settings.output !== null) {
    refuseOwnInput(settings.output, words);
    outputTarget(settings.output, force);
  }
  const { compareReadings } = await import('../workbook/compare-readings.js');
  const progress = progressOn(terminal);
  const [a, b] = words.map((word) => (word === '-' ? standardInput() : word));
  const [nameOfA, nameOfB] = words.map((word) => (word === '-' ? 'standard input' : undefined));
  const compared = await compareReadings(a!, b!, {
    names: { a: nameOfA, b: nameOfB },
    dateOrder: settings.dateOrder,
    sheet: settings.sheet,
    caps: capsOption('compare', values['caps'] as string | undefined),
    onProgress: progress.onProgress,
  }).finally(progress.clear);
  if (settings.output !== null) await writeOutput(settings.output, await outputOf(compared, settings.output), force, progress);
  if (values['json'] === true) {
    const { comparisonJson } = await import('../workbook/comparison-json.js');
    await writeOut(terminal, comparisonJson(compared));
  } else if (!terminal.quiet) {
    const { compareLines } = await import('./compare-lines.js');
    await writeOut(terminal, compareLines(compared, terminal.out, settings.output !== null).map((line) => `${line}\n`));
  }
  for (const { name, sheet, sheets_not_read } of [compared.a, compared.b]) {
    if (sheets_not_read.length > 0) tell(terminal, `${name}: sheet ${sheet} was compared, not ${sheets_not_read.join(', ')}; --sheet names another.`);
  }
  if (settings.output !== null) tell(terminal, `Wrote ${settings.output}.`);
  return keyingsAgree(compared) ? EXIT.done : EXIT.found;
}

interface Settings {
  readonly output: string | null;
  readonly dateOrder: 'dmy' | 'mdy' | null;
  readonly sheet: string | undefined;
}

function settingsOf(values: ParsedCommand['values'], words: readonly string[]): Settings {
  if (words[0] === '-' && words[1] === '-') throw usage('compare', 'standard input cannot be both A and B', 'name a file for one of them');
  const output = (values['output'] as string | undefined) ?? null;
  if (output !== null && !['.xlsx', '.csv', '.json'].includes(extname(output).toLowerCase())) {
    throw usage('compare', `the output ${JSON.stringify(output)} has no ending that says its format`, 'end it in .xlsx, .csv or .json');
  }
  const dateOrder = (values['date-order'] as string | undefined) ?? null;
  if (dateOrder !== null && dateOrder !== 'dmy' && dateOrder !== 'mdy') throw usage('compare', `--date-order ${JSON.stringify(dateOrder)} is not known`, 'write dmy (day first) or mdy (month first)');
  return { output, dateOrder, sheet: values['sheet'] as string | undefined };
}

async function outputOf(compared: ComparedReadings, output: string): Promise<AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>> {
  const ending = extname(output).toLowerCase();
  if (ending === '.xlsx') {
    const { comparisonWorkbook } = await import('../workbook/comparison-workbook.js');
    return comparisonWorkbook(compared);
  }
  if (ending === '.json') {
    const { comparisonJson } = await import('../workbook/comparison-json.js');
    return comparisonJson(compared);
  }
  const { comparisonCsv } = await import('../workbook/comparison-csv.js');
  return comparisonCsv(compared);
}
