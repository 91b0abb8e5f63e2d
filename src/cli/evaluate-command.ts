import { readFile } from 'node:fs/promises';
import { extname } from 'node:path';
import type { PeriodLength } from '../fleet/period-summary.js';
import type { InputCaps } from '../formats/input-caps.js';
import type { ColumnMap } from '../readings/find-header.js';
import { askedPeriod, type AskedPeriod } from '../workbook/asked-period.js';
import type { EvaluatedFleet } from '../workbook/evaluate-readings.js';
import type { FleetTally, OpenedFleet } from '../workbook/opened-fleet.js';
import type { ReadingsInput } from '../workbook/readings-input.js';
import { outputTarget } from '../util/output-target.js';
import { writeFileAtomically } from '../util/write-file-atomically.js';
import { capsOption } from './caps-option.js';
import { EXIT } from './exit-codes.js';
import { keepHeapClose } from './keep-heap-close.js';
import { parseCommand, usage, type ParsedCommand } from './parse-command.js';
import { progressOn, type Progress } from './progress.js';
import { limitFiles, refuseOwnInput } from './refuse-own-input.js';
import { standardInput } from './standard-input.js';
import { tell, writeOut, type Terminal } from './terminal.js';
import { writeOutput } from './write-output.js';

const OPTIONS = {
  output: { type: 'string', short: 'o' },
  append: { type: 'string' },
  limits: { type: 'string' },
  json: { type: 'boolean' },
  from: { type: 'string' },
  to: { type: 'string' },
  'as-of': { type: 'string' },
  by: { type: 'string' },
  baseline: { type: 'string' },
  'date-order': { type: 'string' },
  sheet: { type: 'string' },
  strokes: { type: 'string' },
  map: { type: 'string' },
  'show-map': { type: 'boolean' },
  units: { type: 'string' },
  strict: { type: 'boolean' },
  caps: { type: 'string' },
  force: { type: 'boolean' },
} as const;

/** `treadlebook evaluate`: reads, evaluates, writes. */
export async function evaluateCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, words } = parseCommand('evaluate', args, OPTIONS, { least: 1, most: MOST_INPUTS, what: 'the INPUT file' });
  const asked = settingsOf(values, words);
  keepHeapClose();
  const { openFleet } = await import('../workbook/open-fleet.js');
  const append = asked.append === undefined ? null : await (await import('./append-to.js')).openAppendTo(asked.append, asked.limits, asked.output);
  const settings = { ...asked, limits: append?.limits ?? asked.limits };
  const progress = progressOn(terminal);
  const [force, json] = [values['force'] === true, values['json'] === true];
  if (settings.output !== null) {
    refuseOwnInput(settings.output, [...words, ...limitFiles(settings.limits), settings.map, settings.baseline, settings.strokes]);
    outputTarget(settings.output, force);
  }
  const rowByRow = !json && isTakenRowByRow(settings.output);
  const map = await columnMapOf(settings.map, settings.limits);
  const opened = await openFleet(words.length === 1 ? inputOf(words[0]!) : words.map(inputOf), {
    name: words.includes('-') ? 'standard input' : undefined,
    appendTo: append?.bytes,
    appendToName: append?.name,
    limits: settings.limits,
    ...settings.period,
    baseline: settings.baseline === '-' ? standardInput() : settings.baseline,
    baselineName: settings.baseline === '-' ? 'standard input' : undefined,
    dateOrder: settings.dateOrder,
    sheet: settings.sheet,
    strokes: settings.strokes,
    map,
    units: settings.units,
    caps: settings.caps,
    onRead: progress.onRead,
    onProgress: progress.onProgress,
    // Without its figures, which nobody is told, a table is passed on in little memory.
    summarise: !terminal.quiet || !rowByRow,
  });
  const kept = rowByRow ? null : await keepAll(opened, settings.output, force, progress);
  const fleet: FleetTally = kept ?? (await passOn(opened, settings.output, force, progress));
  if (values['show-map'] === true) {
    const { columnMapText } = await import('../readings/column-map.js');
    await writeOut(terminal, [columnMapText(fleet.columns, fleet.plan.dictionary)]);
  }
  if (kept !== null && json) {
    const { evaluationJson } = await import('../workbook/evaluation-json.js');
    await writeOut(terminal, evaluationJson(kept));
  }
  if (!terminal.quiet) {
    const { summaryLines } = await import('./summary-lines.js');
    for (const line of summaryLines(opened.outcome(), settings.output, settings.period.by)) tell(terminal, line);
  }
  const found = fleet.problems.length > 0 || fleet.counts.verdicts.pass < fleet.counts.inspections || fleet.strokes?.evaluation.chambers.some(({ verdict }) => verdict !== 'pass') === true;
  return values['strict'] === true && found ? EXIT.found : EXIT.done;
}

/** Whether an output, or none, takes each inspection as it comes, so that none is kept. */
function isTakenRowByRow(output: string | null): boolean {
  return output === null || ['.csv', '.tsv'].includes(extname(output).toLowerCase());
}

/** Evaluates and writes row by row. */
async function passOn(opened: OpenedFleet, output: string | null, force: boolean, progress: Progress): Promise<FleetTally> {
  try {
    if (output === null) await opened.drain();
    else await writeFileAtomically(output, opened.csv(delimiterOf(output)), force);
  } finally {
    progress.clear();
  }
  return opened.tally();
}

/** Evaluates everything, and then writes. */
async function keepAll(opened: OpenedFleet, output: string | null, force: boolean, progress: Progress): Promise<EvaluatedFleet> {
  const { collectFleet } = await import('../workbook/evaluate-readings.js');
  const fleet = await collectFleet(opened).finally(progress.clear);
  if (output !== null) await writeOutput(output, await outputOf(fleet, output), force, progress);
  return fleet;
}

/** More files are a slip of the hand, and more than a system opens at once. */
const MOST_INPUTS = 500;

function inputOf(word: string): ReadingsInput {
  return word === '-' ? standardInput() : word;
}

interface Settings {
  readonly output: string | null;
  readonly append: string | undefined;
  readonly limits: string | undefined;
  readonly period: AskedPeriod;
  readonly baseline: string | undefined;
  readonly dateOrder: 'dmy' | 'mdy' | null;
  readonly sheet: string | undefined;
  readonly strokes: string | undefined;
  readonly map: string | undefined;
  readonly units: 'exact' | 'folded';
  readonly caps: InputCaps | undefined;
}

function settingsOf(values: ParsedCommand['values'], inputs: readonly string[]): Settings {
  const text = (name: string): string | undefined => values[name] as string | undefined;
  const output = text('output') ?? null;
  if (output !== null && !['.xlsx', '.csv', '.tsv', '.json', '.parquet'].includes(extname(output).toLowerCase())) {
    throw usage('evaluate', `the output ${JSON.stringify(output)} has no ending that says its format`, 'end it in .xlsx, .csv, .tsv, .json or .parquet');
  }
  const dateOrder = text('date-order') ?? null;
  if (dateOrder !== null && dateOrder !== 'dmy' && dateOrder !== 'mdy') throw usage('evaluate', `--date-order ${JSON.stringify(dateOrder)} is not known`, 'write dmy (day first) or mdy (month first)');
  const asked = { from: text('from'), to: text('to'), asOf: text('as-of'), by: text('by') as PeriodLength | undefined };
  const period = askedPeriod(asked, { where: 'evaluate', from: '--from', to: '--to', asOf: '--as-of', by: '--by' });
  const baseline = text('baseline');
  if (inputs.filter((input) => input === '-').length > 1) throw usage('evaluate', 'standard input is given twice', 'give it once');
  if (baseline === '-' && inputs.includes('-')) throw usage('evaluate', 'standard input cannot be both INPUT and the baseline', 'name a file for one of them');
  const units = text('units') ?? 'exact';
  if (units !== 'exact' && units !== 'folded') throw usage('evaluate', `--units ${JSON.stringify(units)} is not known`, 'write exact, or folded to match T-7, T07 and t 7');
  if (values['json'] === true && values['show-map'] === true) throw usage('evaluate', '--json and --show-map both print to standard output', 'give one of them');
  const append = text('append');
  if (append !== undefined && output === null && values['json'] !== true) throw usage('evaluate', '--append adds to a workbook, and no output is named', 'add -o OUT.xlsx, or -o with the workbook itself and --force to replace it');
  return { output, append, limits: text('limits'), period, baseline, dateOrder, sheet: text('sheet'), strokes: text('strokes'), map: text('map'), units, caps: capsOption('evaluate', text('caps')) };
}

async function columnMapOf(path: string | undefined, limits: string | undefined): Promise<ColumnMap | undefined> {
  if (path === undefined) return undefined;
  const { parseColumnMap } = await import('../readings/column-map.js');
  const { fieldDictionary } = await import('../readings/dictionary.js');
  const { limitSetOf } = await import('../limits/limit-set-of.js');
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch {
    throw usage('evaluate', `the map file ${path} cannot be read`, 'check the path');
  }
  return parseColumnMap(text, path, fieldDictionary(limitSetOf(limits).columns));
}

async function outputOf(fleet: EvaluatedFleet, output: string): Promise<AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>> {
  const ending = extname(output).toLowerCase();
  if (ending === '.xlsx') {
    const { workbookOf } = await import('../workbook/write-workbook.js');
    return workbookOf(fleet);
  }
  if (ending === '.json') {
    const { evaluationJson } = await import('../workbook/evaluation-json.js');
    return evaluationJson(fleet);
  }
  if (ending === '.parquet') {
    const { evaluatedParquet } = await import('../workbook/evaluated-parquet.js');
    return evaluatedParquet(fleet.plan, fleet.columns, fleet.evaluations, output);
  }
  const { evaluatedCsv } = await import('../workbook/evaluated-csv.js');
  return evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations, delimiterOf(output));
}

function delimiterOf(output: string): string {
  return extname(output).toLowerCase() === '.tsv' ? '\t' : ',';
}
