import { extname } from 'node:path';
import { EXIT } from './exit-codes.js';
import { parseCommand, usage } from './parse-command.js';
import { progressOn } from './progress.js';
import { limitFiles, refuseOwnInput } from './refuse-own-input.js';
import { tell, type Terminal } from './terminal.js';
import { writeOutput } from './write-output.js';

const OPTIONS = { output: { type: 'string', short: 'o' }, limits: { type: 'string' }, rows: { type: 'string' }, force: { type: 'boolean' } } as const;

/** Rows of a blank workbook when no number is given. */
const DEFAULT_ROWS = 200;
/** The most rows: above it live formulas would make a spreadsheet program wait. */
const MOST_ROWS = 5000;

/** `treadlebook blank`: writes a workbook or table for entry. */
export async function blankCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values } = parseCommand('blank', args, OPTIONS, { least: 0, most: 0, what: '' });
  const output = values['output'] as string | undefined;
  if (output === undefined) throw usage('blank', 'the output is missing', 'add -o entry.xlsx');
  const rows = values['rows'] === undefined ? DEFAULT_ROWS : Number(values['rows']);
  if (!Number.isInteger(rows) || rows < 1 || rows > MOST_ROWS) throw usage('blank', `--rows ${JSON.stringify(values['rows'])} is not a whole number from 1 to ${MOST_ROWS}`, 'write one, such as --rows 100');
  const limits = values['limits'] as string | undefined;
  refuseOwnInput(output, limitFiles(limits));
  const force = values['force'] === true;
  const ending = extname(output).toLowerCase();
  if (ending === '.xlsx') {
    const { blankWorkbook } = await import('../workbook/write-workbook.js');
    await writeOutput(output, blankWorkbook({ limits, rows }), force, progressOn(terminal));
  } else if (ending === '.csv' || ending === '.tsv') {
    const { blankCsv } = await import('../workbook/evaluated-csv.js');
    await writeOutput(output, blankCsv(limits, ending === '.tsv' ? '\t' : ','), force, progressOn(terminal));
  } else {
    throw usage('blank', `the output ${JSON.stringify(output)} has no ending that says its format`, 'end it in .xlsx, .csv or .tsv');
  }
  tell(terminal, `Wrote ${output}.`);
  return EXIT.done;
}
