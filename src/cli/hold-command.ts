import type { PressureUnit } from '../readings/pressure-units.js';
import { EXIT } from './exit-codes.js';
import type { HoldAnswer } from './hold-lines.js';
import { parseCommand, usage, type ParsedCommand } from './parse-command.js';
import { writeOut, type Terminal } from './terminal.js';

const OPTIONS = { 'gauge-step': { type: 'string' }, 'readable-to': { type: 'string' }, limit: { type: 'string' }, unit: { type: 'string' }, digital: { type: 'boolean' }, json: { type: 'boolean' } } as const;
const UNITS: readonly PressureUnit[] = ['psi', 'kPa', 'bar'];
/** No gauge and no limit of ours is larger, in any of the units. */
const LARGEST = 100_000;

/** `treadlebook hold`: how long to hold a leak test on a gauge until a pass or a fail is sure. */
export async function holdCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values } = parseCommand('hold', args, OPTIONS, { least: 0, most: 0, what: '' });
  const answer = await answerOf(values);
  if (values['json'] === true) {
    await writeOut(terminal, [`${JSON.stringify(holdJson(answer))}\n`]);
  } else {
    const { holdLines } = await import('./hold-lines.js');
    await writeOut(terminal, holdLines(answer).map((line) => `${line}\n`));
  }
  return EXIT.done;
}

async function answerOf(values: ParsedCommand['values']): Promise<HoldAnswer> {
  const unit = unitOf(values['unit'] as string | undefined);
  const gaugeStep = numberOf('gauge-step', values['gauge-step'], '--gauge-step 25');
  const given = numberOf('readable-to', values['readable-to'], '--readable-to 2');
  const limitPerMin = numberOf('limit', values['limit'], '--limit 3');
  if (limitPerMin === null) throw usage('hold', 'the limit is missing', `add what may be lost a minute, such as --limit 3`);
  if (gaugeStep === null && given === null) throw usage('hold', 'the gauge is missing', 'add the pressure between two marks, such as --gauge-step 25, or --readable-to 2');
  if (values['digital'] === true && gaugeStep === null) throw usage('hold', '--digital says how the step is read, and there is no --gauge-step', 'leave it out');
  const { readableTo } = await import('../limits/readable-to.js');
  const { holdTable } = await import('../workbook/hold-table.js');
  const scale = gaugeStep === null ? null : readableTo({ step: gaugeStep, unit, ...(values['digital'] === true ? { digital: true } : {}) });
  const readable = given ?? scale!.readableTo;
  return {
    unit,
    gaugeStep: given === null ? gaugeStep : null,
    digital: given === null ? scale!.digital : null,
    readableTo: readable,
    limitPerMin,
    table: holdTable({ limitPerMin, readableTo: readable })!,
  };
}

function unitOf(text = 'psi'): PressureUnit {
  const unit = UNITS.find((name) => name.toLowerCase() === text.toLowerCase());
  if (unit === undefined) throw usage('hold', `--unit ${JSON.stringify(text.slice(0, 20))} is not a pressure unit here`, `use ${UNITS.join(', ')}`);
  return unit;
}

function numberOf(option: string, value: string | boolean | undefined, example: string): number | null {
  if (value === undefined) return null;
  const text = String(value).trim();
  const number = /^[0-9]+([.,][0-9]+)?$|^[.,][0-9]+$/.test(text) ? Number(text.replace(',', '.')) : NaN;
  if (!(number > 0 && number <= LARGEST)) throw usage('hold', `--${option} ${JSON.stringify(text.slice(0, 20))} is not a number above 0`, `write one, such as ${example}`);
  return number;
}

function holdJson({ unit, gaugeStep, digital, readableTo, limitPerMin, table }: HoldAnswer): object {
  return {
    format: 'treadlebook-hold',
    version: 1,
    unit,
    gauge_step: gaugeStep,
    digital,
    readable_to: readableTo,
    limit_per_min: limitPerMin,
    confidence: 0.95,
    holds: table.holds.map(({ minutes, atLimit, passAtMost, failAtLeast }) => ({ hold_s: minutes * 60, lost_at_limit: atLimit, sure_pass_at_most: passAtMost, sure_fail_at_least: failAtLeast })),
    losses: table.shares.map(({ shareOfLimit, minutes }) => ({ share_of_limit: shareOfLimit, hold_s: minutes * 60 })),
  };
}
