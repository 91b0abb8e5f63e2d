import { beforeEach, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import { readableTo } from '../../src/limits/readable-to.js';
import { coolingDrop } from '../../src/physics/cooling-drop.js';
import { holdToDecide } from '../../src/physics/hold-to-decide.js';
import { sureLosses } from '../../src/physics/sure-losses.js';
import { convertPressure, type PressureUnit } from '../../src/readings/pressure-units.js';
import { readPackageJsonFile } from '../../src/util/read-package-json-file.js';
import { plainValue } from '../../src/util/raw-table.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { ownSet, SOURCE } from '../support/evaluate-rows.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';

const GAUGES = [
  ['psi', 25, ''],
  ['psi', 25, ''],
  ['bar', 0.5, ''],
  ['kPa', 100, '6'],
] as const;
const TABLE = ['inspection_id,inspected_on,unit,pressure_unit,gauge_step,readable_to', ...GAUGES.map(([unit, step, read], index) => `A-${index},2026-03-1${index},K-${index},${unit},${step},${read}`)].join('\n');

type Line = readonly (string | number | boolean | null)[];

/** The lines of the table of holds. */
async function holdLinesOf(book: Uint8Array): Promise<Line[]> {
  const lines: Line[] = [];
  let within = false;
  for await (const { cells } of (await openXlsx(book)).sheets.find(({ name }) => name === 'Start here')!.table().rows) {
    const line = cells.map(plainValue);
    if (line[0] === 'warm tanks') within = false;
    if (within) lines.push(line);
    if (line[0] === 'Gauge') within = true;
  }
  return lines;
}

describe('the table of holds on Start here', () => {
  it('has a line for each gauge in use, the commonest first, and each leak limit of the set', async () => {
    const fleet = await evaluateReadings(Buffer.from(TABLE), { limits: 'us-driver-licence-manual' });
    const lines = await holdLinesOf(await bytesOf(workbookOf(fleet)));
    expect([...new Set(lines.map(([gauge]) => gauge))]).toStrictEqual(['25 psi steps', '0.5 bar steps', '100 kPa steps, read to 6']);
    // The manual's four: 2 and 3 psi released, 3 and 4 applied, single and combination.
    expect(lines.slice(0, 4).map((line) => line[3])).toStrictEqual([2, 3, 3, 4]);
    const gauges = [['psi', 3], ['bar', readableTo({ step: 0.5, unit: 'bar' })!.readableTo], ['kPa', 6]] as const;
    for (const [index, [unit, readable]] of gauges.entries()) {
      for (const [at, psi] of [2, 3, 3, 4].entries()) checkLine(lines[index * 4 + at]!, unit, readable, convertPressure(psi, 'psi', unit));
    }
    expect(lines).toHaveLength(12);
  });

  it('is for the usual dial where no gauge is named', async () => {
    for (const book of [await bytesOf(blankWorkbook({ rows: 3 })), await bytesOf(workbookOf(await evaluateReadings(Buffer.from('unit,inspected_on\nK-1,2026-03-14\n'))))]) {
      const lines = await holdLinesOf(book);
      expect(lines.map((line) => [line[0], line[1], line[3]])).toStrictEqual([['25 psi steps', 3, 3], ['25 psi steps', 3, 4]]);
    }
  });

  it('takes no gauge whose unit or step was not understood, and no more than three', async () => {
    const rows = ['unit,inspected_on,pressure_unit,gauge_step', 'K-1,2026-03-14,furlong,7', 'K-2,2026-03-14,,0', 'K-3,2026-03-14,,20', 'K-4,2026-03-14,,10', 'K-5,2026-03-14,,5', 'K-6,2026-03-14,,2'].join('\n');
    const fleet = await evaluateReadings(Buffer.from(rows));
    const lines = await holdLinesOf(await bytesOf(workbookOf(fleet)));
    expect([...new Set(lines.map(([gauge]) => gauge))]).toStrictEqual(['20 psi steps', '10 psi steps', '5 psi steps']);
  });

  it('says so where it leaves lines out', async () => {
    const checks = Array.from({ length: 20 }, (_, index) => ({ check: 'released', title: 'Released', measure: 'released_loss', when: `vehicles == ${index}`, at_most: 2 + index, unit: 'kPa/min', source: SOURCE }));
    const book = await bytesOf(blankWorkbook({ rows: 3, limits: parseLimitSet(ownSet({ checks }), 'own.json') }));
    const lines = await holdLinesOf(book);
    expect(lines).toHaveLength(19);
    expect(lines.at(-1)![0]).toBe('2 more lines are left out (the table holds 18): treadlebook hold gives any of them.');
  });

  // The gas law at constant volume, in the words beside the table.
  it('stands beside what a cooling tank fakes, as the gas law gives it', () => {
    const { cooling } = readPackageJsonFile('workbooks', 'start-here.json') as { cooling: string };
    const drop = coolingDrop({ gaugePsi: 100, fromC: 21, toC: 20 })!;
    expect(cooling).toContain(`about ${drop.toFixed(1)} psi (${convertPressure(drop, 'psi', 'kPa').toFixed(1)} kPa) for each 1 °C at 100 psi (690 kPa)`);
    expect(Math.round(coolingDrop({ gaugePsi: 100, fromC: 25, toC: 20 })!)).toBe(2);
    expect(cooling).toContain('5 °C fake 2 psi');
  });
});

/** Holds a line against the functions of the library, which have published checks of their own. */
function checkLine(line: Line, unit: PressureUnit, readable: number, limitPerMin: number): void {
  const [, apart, , limit, unmoved, ...losses] = line;
  const power = unit === 'bar' ? 100 : 10;
  expect(apart).toBeCloseTo(readable, 12);
  expect(limit).toBeCloseTo(limitPerMin, 12);
  expect(unmoved).toBe(Math.ceil(holdToDecide(0, { limitPerMin, readableTo: readable })! * 60));
  for (const [index, minutes] of [1, 2, 5].entries()) {
    const sure = sureLosses(minutes, { limitPerMin, readableTo: readable })!;
    const [pass, fail] = [losses[index * 2], losses[index * 2 + 1]];
    if (sure.passAtMost === null) expect(pass).toBe('none');
    else expect(pass).toBeCloseTo(Math.floor(sure.passAtMost * power) / power, 9);
    expect(fail).toBeCloseTo(Math.ceil(sure.failAtLeast * power) / power, 9);
  }
}

describe('in LibreOffice', { timeout: 180_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  // Psi, kPa, bar, MPa in 15 and 30 minutes, limits by vehicle count, and limits that are expressions.
  it.each(['common-practice', 'us-driver-licence-manual', 'us-nevada', 'ca-quebec', 'un-r13', 'ru-gost'])('the table of holds computes what is stored: %s', async (limits) => {
    const fleet = await evaluateReadings(Buffer.from(TABLE), { limits });
    const { differences, compared } = await compareWithRecalculation(await bytesOf(workbookOf(fleet)), await bytesOf(workbookOf(fleet, { withoutResults: true })));
    expect(compared).toBeGreaterThan(0);
    expect(differences.filter(({ cell }) => cell.startsWith('Start here!'))).toStrictEqual([]);
  });
});
