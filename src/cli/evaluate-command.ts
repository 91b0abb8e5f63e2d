import { readFile } from 'node:fs/promises';
import { extname } from 'node:path';
import type { PeriodLength } from '../fleet/period-summary.js';
import type { ColumnMap } from '../readings/find-header.js';
import { askedPeriod, type AskedPeriod } from '../workbook/asked-period.js';
import type { EvaluatedFleet } from '../workbook/evaluate-readings.js';
import { writeFileAtomically } from '../util/write-file-atomically.js';
import { EXIT } from './exit-codes.js';
import { parseCommand, usage, type ParsedCommand } from './parse-command.js';
import { limitFiles, refuseOwnInput } from './refuse-own-input.js';
import { progressLine, tell, writeOut, type Terminal } from './terminal.js';

const OPTIONS = {
  output: { type: 'string', short: 'o' },
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
  force: { type: 'boolean' },
} as const;

/** `treadlebook evaluate`: reads, evaluates, writes. */
export async function evaluateCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, words } = parseCommand('evaluate', args, OPTIONS, { least: 1, most: 1, what: 'the INPUT file' });
  const input = words[0]!;
  const settings = settingsOf(values, input);
  const { evaluateReadings } = await import('../workbook/evaluate-readings.js');
  const progress = progressLine(terminal);
  if (settings.output !== null) refuseOwnInput(settings.output, [input, ...limitFiles(settings.limits), settings.map, settings.baseline, settings.strokes]);
  const map = await columnMapOf(settings.map, settings.limits);
  const fleet = await evaluateReadings(input === '-' ? process.stdin : input, {
    name: input === '-' ? 'standard input' : undefined,
    limits: settings.limits,
    ...settings.period,
    baseline: settings.baseline === '-' ? process.stdin : settings.baseline,
    baselineName: settings.baseline === '-' ? 'standard input' : undefined,
    dateOrder: settings.dateOrder,
    sheet: settings.sheet,
    strokes: settings.strokes,
    map,
    units: settings.units,
    onProgress: (count) => progress.show(`${count} inspections`),
  });
  progress.clear();
  if (values['show-map'] === true) {
    const { columnMapText } = await import('../readings/column-map.js');
    await writeOut(terminal, [columnMapText(fleet.columns, fleet.plan.dictionary)]);
  }
  if (settings.output !== null) await writeOutput(fleet, settings.output, values['force'] === true);
  if (values['json'] === true) {
    const { evaluationJson } = await import('../workbook/evaluation-json.js');
    await writeOut(terminal, evaluationJson(fleet));
  }
  const { summaryLines } = await import('./summary-lines.js');
  for (const line of summaryLines(fleet, settings.output, settings.period.by)) tell(terminal, line);
  const found = fleet.problems.length > 0 || fleet.evaluations.some(({ verdict }) => verdict !== 'pass') || fleet.strokes?.evaluation.chambers.some(({ verdict }) => verdict !== 'pass') === true;
  return values['strict'] === true && found ? EXIT.found : EXIT.done;
}

interface Settings {
  readonly output: string | null;
  readonly limits: string | undefined;
  readonly period: AskedPeriod;
  readonly baseline: string | undefined;
  readonly dateOrder: 'dmy' | 'mdy' | null;
  readonly sheet: string | undefined;
  readonly strokes: string | undefined;
  readonly map: string | undefined;
  readonly units: 'exact' | 'folded';
}

function settingsOf(values: ParsedCommand['values'], input: string): Settings {
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
  if (baseline === '-' && input === '-') throw usage('evaluate', 'standard input cannot be both INPUT and the baseline', 'name a file for one of them');
  const units = text('units') ?? 'exact';
  if (units !== 'exact' && units !== 'folded') throw usage('evaluate', `--units ${JSON.stringify(units)} is not known`, 'write exact, or folded to match T-7, T07 and t 7');
  if (values['json'] === true && values['show-map'] === true) throw usage('evaluate', '--json and --show-map both print to standard output', 'give one of them');
  return { output, limits: text('limits'), period, baseline, dateOrder, sheet: text('sheet'), strokes: text('strokes'), map: text('map'), units };
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

async function writeOutput(fleet: EvaluatedFleet, output: string, force: boolean): Promise<void> {
  const ending = extname(output).toLowerCase();
  if (ending === '.xlsx') {
    const { workbookOf } = await import('../workbook/write-workbook.js');
    return writeFileAtomically(output, workbookOf(fleet), force);
  }
  if (ending === '.json') {
    const { evaluationJson } = await import('../workbook/evaluation-json.js');
    return writeFileAtomically(output, evaluationJson(fleet), force);
  }
  if (ending === '.parquet') {
    const { evaluatedParquet } = await import('../workbook/evaluated-parquet.js');
    return writeFileAtomically(output, evaluatedParquet(fleet.plan, fleet.columns, fleet.evaluations, output), force);
  }
  const { evaluatedCsv } = await import('../workbook/evaluated-csv.js');
  return writeFileAtomically(output, evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations, ending === '.tsv' ? '\t' : ','), force);
}
