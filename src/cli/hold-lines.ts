import { durationWords } from '../expressions/operators.js';
import { coolingDrop } from '../physics/cooling-drop.js';
import { fromPsi, type PressureUnit } from '../readings/pressure-units.js';
import { roundHalfAway } from '../util/round-half-away.js';
import type { holdTable, ShareLine } from '../workbook/hold-table.js';

/** What was asked, and what came of it. */
export interface HoldAnswer {
  readonly unit: PressureUnit;
  /** Null where the readability was given instead. */
  readonly gaugeStep: number | null;
  readonly digital: boolean | null;
  readonly readableTo: number;
  readonly limitPerMin: number;
  readonly table: NonNullable<ReturnType<typeof holdTable>>;
}

/** Decimals of a pressure in each unit; a sure pass is rounded down and a sure fail up. */
const DECIMALS: Readonly<Record<PressureUnit, number>> = { psi: 1, kPa: 1, bar: 2 };

/** The answer as lines of text. */
export function holdLines({ unit, gaugeStep, digital, readableTo, limitPerMin, table }: HoldAnswer): string[] {
  const power = 10 ** DECIMALS[unit];
  const down = (value: number): string => String(Math.floor(roundHalfAway(value * power, 6)) / power);
  const up = (value: number): string => String(Math.ceil(roundHalfAway(value * power, 6)) / power);
  const read = String(roundHalfAway(readableTo, 4));
  const gauge = gaugeStep === null ? `told apart to ${read} ${unit}` : digital ? `steps of ${gaugeStep} ${unit}, digital: told apart to the step` : `steps of ${gaugeStep} ${unit}, a dial: told apart to ${read} ${unit} (0.12 of a step, common practice, no source)`;
  const drop = coolingDrop({ gaugePsi: 100, fromC: 21, toC: 20 })!;
  const cells = [
    ['Held for', 'Lost at the limit', 'Sure pass at most', 'Sure fail at least'],
    ...table.holds.map(({ minutes, atLimit, passAtMost, failAtLeast }) => [durationWords(minutes * 60), `${roundHalfAway(atLimit, 6)} ${unit}`, passAtMost === null ? 'none' : `${down(passAtMost)} ${unit}`, `${up(failAtLeast)} ${unit}`]),
  ];
  const widths = cells[0]!.map((_, column) => Math.max(...cells.map((row) => row[column]!.length)));
  const losses = table.shares.map((line) => [lossWords(line), durationWords(wholeSeconds(line.minutes))] as const);
  const widest = Math.max(...losses.map(([words]) => words.length));
  return [
    `Gauge: ${gauge}`,
    `Limit: ${limitPerMin} ${unit}/min`,
    '',
    'What may be lost over the hold for the verdict to be 95 % sure',
    ...cells.map((row) => `  ${row.map((cell, column) => cell.padEnd(widths[column]!)).join('  ')}`.trimEnd()),
    'Between the two the gauge is too coarse: hold longer, or use a gauge that can be read finer.',
    '',
    'How long to hold until a loss of that size is decided',
    ...losses.map(([words, time]) => `  ${words.padEnd(widest)}  ${time}`),
    'At the limit itself no hold decides. A rule\'s own time is the least in any case.',
    '',
    'Two readings, each uniform over what the gauge can be read to (JCGM 100:2008, 4.3.7), normal at 95 % (JCGM 106:2012);',
    'the watch is taken as exact and the leak as steady, though it slows as the pressure falls.',
    `A tank that cools by 1 °C loses about ${up(fromPsi(drop, unit))} ${unit} at ${roundHalfAway(fromPsi(100, unit), unit === 'bar' ? 1 : 0)} ${unit} without any leak: let warm tanks cool first.`,
  ];
}

function lossWords({ shareOfLimit }: ShareLine): string {
  return shareOfLimit === 0 ? 'the needle has not moved' : `${roundHalfAway(shareOfLimit * 100, 0)} % of the limit`;
}

/** Whole seconds, rounded up. */
export function wholeSeconds(minutes: number): number {
  return Math.ceil(roundHalfAway(minutes * 60, 6));
}
