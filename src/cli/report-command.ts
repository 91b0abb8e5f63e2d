import { readFile } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import { capsOf, type InputCaps } from '../formats/input-caps.js';
import { isoDateToSerial } from '../readings/date-serial.js';
import type { ColumnMap } from '../readings/find-header.js';
import { fileChunks } from '../util/file-chunks.js';
import { outputTarget } from '../util/output-target.js';
import { capsOption } from './caps-option.js';
import { EXIT } from './exit-codes.js';
import { limitSetOfBook, limitsOfBook } from './limits-of-book.js';
import { parseCommand, usage, type ParsedCommand } from './parse-command.js';
import { progressOn } from './progress.js';
import { limitFiles, refuseOwnInput } from './refuse-own-input.js';
import { standardInput } from './standard-input.js';
import { tell, type Terminal } from './terminal.js';
import { writeOutput } from './write-output.js';

const OPTIONS = {
  output: { type: 'string', short: 'o' },
  unit: { type: 'string' },
  date: { type: 'string' },
  limits: { type: 'string' },
  'date-order': { type: 'string' },
  sheet: { type: 'string' },
  map: { type: 'string' },
  units: { type: 'string' },
  caps: { type: 'string' },
  force: { type: 'boolean' },
} as const;

/** `treadlebook report`: one printable page for each inspection of a unit on a day. */
export async function reportCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, words } = parseCommand('report', args, OPTIONS, { least: 1, most: 1, what: 'the INPUT file' });
  const { output, unit, date, limits, map, ...reading } = settingsOf(values);
  const input = words[0]!;
  refuseOwnInput(output, [input, ...limitFiles(limits), map]);
  const force = values['force'] === true;
  outputTarget(output, force);
  const [{ evaluateReadings }, { findInspections }, { collect }, { reportWorkbook }] = await Promise.all([import('../workbook/evaluate-readings.js'), import('../workbook/find-inspections.js'), import('../workbook/open-readings.js'), import('../workbook/report-workbook.js')]);
  const name = input === '-' ? 'standard input' : basename(input);
  const bytes = await collect(input === '-' ? standardInput() : fileChunks(input), { name, cap: 'xlsx.fileBytes', most: capsOf('xlsx', reading.caps?.xlsx).fileBytes });
  const book = await limitsOfBook(bytes, name, reading.caps);
  const set = limits ?? limitSetOfBook(book, name, (await import('../limits/load-limit-set.js')).limitSetIds());
  const progress = progressOn(terminal);
  const fleet = await evaluateReadings(bytes, { name, limits: set, map: await columnMapOf(map, set), ...reading, onProgress: progress.onProgress }).finally(progress.clear);
  const found = findInspections(fleet.evaluations, { unit, date }, fleet.source.name);
  const numbers = book?.limitSet === fleet.plan.set.id ? await book.changed(fleet.plan) : undefined;
  book?.close();
  await writeOutput(output, reportWorkbook(fleet, { unit, date, numbers }), force, progress);
  if (numbers && numbers.size > 0) tell(terminal, `${numbers.size} ${numbers.size === 1 ? 'number' : 'numbers'} on the sheet Limits of ${name} differ from the limit set; the report uses them and says so.`);
  tell(terminal, `Wrote ${output}: ${found.length === 1 ? 'one inspection' : `${found.length} inspections, a page each,`} of ${found[0]!.unit} on ${date}, by the limit set ${fleet.plan.set.id}.`);
  return EXIT.done;
}

interface Settings {
  readonly output: string;
  readonly unit: string;
  readonly date: string;
  readonly limits: string | undefined;
  readonly map: string | undefined;
  readonly sheet: string | undefined;
  readonly dateOrder: 'dmy' | 'mdy' | null;
  readonly units: 'exact' | 'folded';
  readonly caps: InputCaps | undefined;
}

function settingsOf(values: ParsedCommand['values']): Settings {
  const text = (option: keyof typeof OPTIONS): string | undefined => values[option] as string | undefined;
  const [output, unit, date] = [text('output'), text('unit'), text('date')];
  if (output === undefined) throw usage('report', 'the output is missing', 'add -o report.xlsx');
  if (extname(output).toLowerCase() !== '.xlsx') throw usage('report', `the output ${JSON.stringify(output)} is no workbook`, 'end it in .xlsx');
  if (unit === undefined || unit.trim() === '') throw usage('report', 'the unit is missing', 'add --unit K-101');
  if (date === undefined) throw usage('report', 'the date is missing', 'add --date 2026-03-14');
  if (isoDateToSerial(date) === null) throw usage('report', `--date ${JSON.stringify(date)} is no date`, 'write it as 2026-03-14');
  const dateOrder = text('date-order') ?? null;
  if (dateOrder !== null && dateOrder !== 'dmy' && dateOrder !== 'mdy') throw usage('report', `--date-order ${JSON.stringify(dateOrder)} is not known`, 'write dmy (day first) or mdy (month first)');
  const units = text('units') ?? 'exact';
  if (units !== 'exact' && units !== 'folded') throw usage('report', `--units ${JSON.stringify(units)} is not known`, 'write exact, or folded to match T-7, T07 and t 7');
  return { output, unit, date, limits: text('limits'), map: text('map'), sheet: text('sheet'), dateOrder, units, caps: capsOption('report', text('caps')) };
}

async function columnMapOf(path: string | undefined, limits: string | undefined): Promise<ColumnMap | undefined> {
  if (path === undefined) return undefined;
  const [{ parseColumnMap }, { fieldDictionary }, { limitSetOf }] = await Promise.all([import('../readings/column-map.js'), import('../readings/dictionary.js'), import('../limits/limit-set-of.js')]);
  const text = await readFile(path, 'utf8').catch(() => {
    throw usage('report', `the map file ${path} cannot be read`, 'check the path');
  });
  return parseColumnMap(text, path, fieldDictionary(limitSetOf(limits).columns));
}
