import { beforeEach, describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import { buildupOverSpan } from '../../src/physics/buildup-over-span.js';
import { equivalentHole } from '../../src/physics/equivalent-hole.js';
import { freeAirFlow } from '../../src/physics/free-air-flow.js';
import { minutesUntilWarning } from '../../src/physics/minutes-until-warning.js';
import { plainValue } from '../../src/util/raw-table.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { planOf } from '../../src/workbook/plan-for.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWithRecalculation } from '../support/compare-with-recalculation.js';
import { ownSet, SOURCE } from '../support/evaluate-rows.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';

type Cell = string | number | null;
type Row = Readonly<Record<string, Cell>>;

const DIAGNOSIS = ['leak_free_air', 'leak_hole', 'buildup_85_to_100', 'minutes_to_warning'] as const;

function fleetOf(rows: readonly Row[], limits = 'common-practice'): Promise<EvaluatedFleet> {
  const filled = rows.map((row, index) => ({ inspection_id: `A-${index}`, inspected_on: '2026-03-14', unit: `K-${index}`, ...row }) as Row);
  const header = [...new Set(filled.flatMap((row) => Object.keys(row)))];
  return evaluateReadings(Buffer.from([header, ...filled.map((row) => header.map((name) => row[name] ?? ''))].map((cells) => cells.join(',')).join('\n')), { limits });
}

async function diagnosisOf(row: Row): Promise<Readonly<Record<string, unknown>>> {
  const { measures } = (await fleetOf([row])).evaluations[0]!;
  return Object.fromEntries(DIAGNOSIS.flatMap((name) => (name in measures ? [[name, measures[name]]] : [])));
}

const released = (start: number, end: number, time: string): Row => ({ released_primary_start: start, released_primary_end: end, released_time: time });

/** Rows in which every case of the expressions is met. */
const ROWS: readonly Row[] = [
  { tank_litres: 100, ...released(104, 101, '1:00'), light_on_at: 70, buzzer_on_at: 68, buildup_from: 60, buildup_to: 120, buildup_time: '4:00' },
  { tank_litres: '120 l', ...released(104, 102, '1:00'), released_secondary_start: 110, released_secondary_end: 105, light_on_at: 72, buildup_from: 85, buildup_to: 100, buildup_time: 30 },
  { tank_litres: 100, released_secondary_start: 104, released_secondary_end: 101, released_time: '2:00', buzzer_on_at: 60 },
  { tank_litres: 100, ...released(104, 104, '1:00'), light_on_at: 60 },
  { tank_litres: 100, ...released(104, 106, '1:00'), light_on_at: 60 },
  { tank_litres: 100, ...released(104, 106, '1:00'), released_secondary_start: 104, released_secondary_end: 102, light_on_at: 'never' },
  { tank_litres: 0, ...released(104, 101, '1:00'), light_on_at: 110, buildup_from: 100, buildup_to: 85, buildup_time: 30 },
  { tank_litres: 100, ...released(12, 11, '1:00'), light_on_at: 5 },
  { tank_litres: 'big', ...released(104, 101, '1:00') },
  { ...released(104, 101, '1:00'), buildup_from: 85, buildup_to: 85, buildup_time: 30 },
  { pressure_unit: 'kPa', tank_litres: 80, ...released(720, 700, '1:00'), light_on_at: 480, buildup_from: 500, buildup_to: 800, buildup_time: '1:40' },
  { notes: 'nothing' },
];

describe('published checks, through the product', () => {
  // NAVFAC MO-209, Tables 5-3 and 5-4: 629.16 ft3 (inferred) fall from 90 to 80 psig in 10 min 42 s, which is 40 cfm.
  it('pressure-drop test', async () => {
    const found = await diagnosisOf({ tank_litres: 629.16 * 28.316846592, ...released(90, 80, '10:42') });
    expect(Math.round((found['leak_free_air'] as number) / 28.316846592)).toBe(40);
  });

  // Compressed Air and Gas Institute: a hole of 1/16 in at 100 psig passes 6.49 cfm, x 0.65 with a sharp edge. 100 L lose
  // 6.49 x 0.65 x 28.3168 x 14.696 / 100 = 17.555 psi a minute through it; about 100 psi in the middle.
  it('orifice table', async () => {
    const found = await diagnosisOf({ tank_litres: 100, ...released(108.7775, 91.2225, '1:00') });
    expect(found['leak_free_air'] as number).toBeCloseTo(6.49 * 0.65 * 28.316846592, 1);
    expect(Math.abs((found['leak_hole'] as number) / (25.4 / 16) - 1)).toBeLessThan(0.004);
  });

  // 49 CFR 571.121, S5.1.1: 25 s from 85 to 100 psi; twice the pressure takes twice the time.
  it('build-up span', async () => {
    expect(await diagnosisOf({ buildup_from: 70, buildup_to: 100, buildup_time: 50 })).toStrictEqual({ buildup_85_to_100: 25, minutes_to_warning: null });
  });
});

describe('the measures for diagnosis', () => {
  it('are what the functions of the library give', async () => {
    const { evaluations } = await fleetOf(ROWS);
    const at = (row: number, name: (typeof DIAGNOSIS)[number]): unknown => evaluations[row]!.measures[name];
    const flow = freeAirFlow({ lossPsiPerMin: 3, tankLitres: 100 })!;
    expect(at(0, 'leak_free_air')).toBeCloseTo(flow, 10);
    expect(at(0, 'leak_hole')).toBeCloseTo(equivalentHole(flow, { gaugePsi: 102.5 })!.diameterMm, 10);
    expect(at(0, 'buildup_85_to_100')).toBe(buildupOverSpan({ fromPsi: 60, toPsi: 120, seconds: 240 }));
    expect(at(0, 'minutes_to_warning')).toBe(minutesUntilWarning({ fromPsi: 104, warningPsi: 68, lossPsiPerMin: 3 }));
    // Both circuits: the mean of their losses over all tanks, and the worse one from its own start.
    expect(at(1, 'leak_free_air')).toBeCloseTo(freeAirFlow({ lossPsiPerMin: 3.5, tankLitres: 120 })!, 10);
    expect(at(1, 'leak_hole')).toBeCloseTo(equivalentHole(freeAirFlow({ lossPsiPerMin: 3.5, tankLitres: 120 })!, { gaugePsi: 107.5 })!.diameterMm, 10);
    expect(at(1, 'minutes_to_warning')).toBe(minutesUntilWarning({ fromPsi: 110, warningPsi: 72, lossPsiPerMin: 5 }));
    expect(at(2, 'minutes_to_warning')).toBeCloseTo(minutesUntilWarning({ fromPsi: 104, warningPsi: 60, lossPsiPerMin: 1.5 }) as number, 10);
    expect(at(10, 'leak_free_air')).toBeCloseTo(freeAirFlow({ lossPsiPerMin: 20 * 0.14503773773020923, tankLitres: 80 })!, 10);
  });

  it('are blank, never a number that is none, where the readings give no answer', async () => {
    const { evaluations } = await fleetOf(ROWS);
    const figures = evaluations.map(({ measures }) => DIAGNOSIS.map((name) => measures[name] ?? null));
    // No leak: no flow and no hole, and the warning is never reached.
    expect(figures[3]).toStrictEqual([0, 0, null, null]);
    // Both needles rose; one rose and the warning never came on; no volume, the warning on before, a build-up downwards.
    expect(figures[4]).toStrictEqual([null, null, null, null]);
    expect(figures[5]![0]).toBeCloseTo(freeAirFlow({ lossPsiPerMin: 1, tankLitres: 100 })!, 10);
    expect(figures[5]![3]).toBeNull();
    expect(figures[6]).toStrictEqual([null, null, null, 0]);
    // Too little pressure for choked flow.
    expect(figures[7]![1]).toBeNull();
    expect(figures[8]).toStrictEqual([null, null, null, null]);
    expect(figures[9]![2]).toBeNull();
    expect(figures[11]).toStrictEqual([null, null, null, null]);
    for (const figure of figures.flat()) expect(figure === null || Number.isFinite(figure)).toBe(true);
  });

  it('change no verdict and no reason', async () => {
    const bare = ROWS.map(({ tank_litres: _litres, ...row }) => row);
    const told = async (rows: readonly Row[]): Promise<unknown[]> => (await fleetOf(rows)).evaluations.map(({ verdict, reason, checks }) => ({ verdict, reason, checks }));
    // A tank volume that could not be read is a problem of its own, so that row is left out.
    const kept = (rows: readonly Row[]): Row[] => rows.filter((_, index) => index !== 8);
    expect(await told(kept(ROWS))).toStrictEqual(await told(kept(bare)));
  });

  it('cannot be held against a limit', () => {
    const set = parseLimitSet(ownSet({ checks: [{ check: 'leak', title: 'Leak', measure: 'leak_free_air', at_most: 10, unit: 'min', source: SOURCE }] }), 'own.json');
    expect(() => planOf(set)).toThrow(/check leak: leak_free_air is for diagnosis and never decides a verdict/);
  });
});

async function headerOf(book: Uint8Array): Promise<{ readonly bands: readonly unknown[]; readonly names: readonly unknown[] }> {
  const rows: unknown[][] = [];
  for await (const { cells } of (await openXlsx(book)).sheets.find(({ name }) => name === 'Readings')!.table().rows) if (rows.length < 3) rows.push(cells.map(plainValue));
  return { bands: rows[0]!, names: rows[2]! };
}

const shown = (names: readonly unknown[]): unknown[] => names.filter((name) => DIAGNOSIS.some((one) => name === `computed.${one}`));

describe('the columns for diagnosis', () => {
  it('stand in a band of their own, and only those that have a value', async () => {
    const all = await headerOf(await bytesOf(workbookOf(await fleetOf(ROWS))));
    expect(shown(all.names)).toStrictEqual(DIAGNOSIS.map((name) => `computed.${name}`));
    const first = all.names.indexOf('computed.leak_free_air');
    expect(all.bands[first]).toBe('Diagnosis, never the verdict');
    expect(all.bands.slice(first + 1, first + 4).every((band) => (band ?? null) === null)).toBe(true);
    const some = await headerOf(await bytesOf(workbookOf(await fleetOf([ROWS[9]!, { buildup_from: 85, buildup_to: 100, buildup_time: 40, light_on_at: null }]))));
    expect(shown(some.names)).toStrictEqual(['computed.buildup_85_to_100']);
    expect(some.names).not.toContain('tank_litres');
  });

  it('are not in a blank workbook, nor where the file has no such readings', async () => {
    const blank = await headerOf(await bytesOf(blankWorkbook({ rows: 3 })));
    expect([shown(blank.names), blank.names.includes('tank_litres'), blank.bands.includes('Diagnosis, never the verdict')]).toStrictEqual([[], false, false]);
    const few = await headerOf(await bytesOf(workbookOf(await fleetOf([{ cut_out: 120 }]))));
    expect(shown(few.names)).toStrictEqual([]);
  });

  it('have each its expression and its source on the sheet Limits', async () => {
    const lines: unknown[][] = [];
    for await (const { cells } of (await openXlsx(await bytesOf(workbookOf(await fleetOf(ROWS))))).sheets.find(({ name }) => name === 'Limits')!.table().rows) lines.push(cells.map(plainValue));
    const from = lines.findIndex(([first]) => String(first).startsWith('Diagnosis, never the verdict'));
    const under = lines.slice(from + 2, from + 2 + DIAGNOSIS.length);
    expect(under.map(([first]) => /\[(.*)\]/.exec(String(first))?.[1])).toStrictEqual([...DIAGNOSIS]);
    expect(under.map((line) => String(line[11])).join(' ')).toMatch(/NAVFAC MO-209.*Compressed Air and Gas Institute.*571\.121/s);
  });

  it('survive a round trip, and the workbook proves itself', { timeout: 60_000 }, async () => {
    const fleet = await fleetOf(ROWS);
    const book = await bytesOf(workbookOf(fleet));
    const again = await evaluateReadings(book);
    const measuresOf = ({ evaluations }: EvaluatedFleet): unknown[] => evaluations.map(({ measures }) => measures);
    expect(measuresOf(again)).toStrictEqual(measuresOf(fleet));
    expect([...evaluationJson(fleet)].join('')).toContain('"leak_hole":');
    const { findings } = await verifyWorkbook(book);
    expect(findings.filter(({ sheet }) => sheet === 'Readings' || sheet === 'Limits')).toStrictEqual([]);
  });
});

describe('in LibreOffice', { timeout: 180_000 }, () => {
  beforeEach((context) => requireOutside(context, 'soffice'));

  // The outside source of every expected value is LibreOffice, which computes a twin that holds no results.
  it('the columns for diagnosis compute what is stored', async () => {
    const fleet = await fleetOf(ROWS, 'us-driver-licence-manual');
    const { differences, compared } = await compareWithRecalculation(await bytesOf(workbookOf(fleet)), await bytesOf(workbookOf(fleet, { withoutResults: true })));
    expect(compared).toBeGreaterThan(ROWS.length * DIAGNOSIS.length);
    expect(differences.filter(({ cell }) => cell.startsWith('Readings!'))).toStrictEqual([]);
  });
});
