import { execFileSync } from 'node:child_process';
import { createReadStream, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import { readCsv } from '../../src/formats/read-csv.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet } from '../../src/limits/load-limit-set.js';
import type { Entry } from '../../src/readings/inspection.js';
import { readInspections, type InspectionReader } from '../../src/readings/read-inspections.js';
import { packagePath } from '../../src/util/package-path.js';

type Row = Readonly<Record<string, string>>;

interface FleetMaker {
  readonly SEED: number;
  readonly COLUMNS: readonly string[];
  makeFleet(seed: number): Row[];
  cleanCsv(fleet: readonly Row[]): string;
  messyCsv(fleet: readonly Row[]): string;
}

const CLEAN = 'invented-fleet.csv';
const MESSY = 'invented-fleet-messy.csv';
const script = packagePath('samples', 'make-fleet.mjs');
const sample = (name: string): string => packagePath('samples', name);
const plan = compileLimitSet(loadLimitSet());

let maker: FleetMaker;
let fleet: Row[];
let clean: { reader: InspectionReader; evaluations: Evaluation[] };
let messy: typeof clean;

async function evaluateFile(name: string): Promise<typeof clean> {
  const table = await readCsv(createReadStream(sample(name)), { name });
  const reader = await readInspections(table, { dictionary: plan.dictionary, name });
  const evaluator = new RowEvaluator(plan);
  const evaluations: Evaluation[] = [];
  for await (const inspection of reader.inspections) evaluations.push(evaluator.evaluate(inspection));
  return { reader, evaluations };
}

function tally(names: Iterable<string>): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const name of names) counts[name] = (counts[name] ?? 0) + 1;
  return counts;
}

// NIST SP 811, Appendix B: 1 psi is 6.894 757 kPa.
const KPA_PER: Readonly<Record<string, number>> = { psi: 6.894757, kPa: 1, bar: 100 };

/** A cell of the clean file as a value, read here without the program's own readers. */
function fromClean(text: string, kind: string): Entry {
  if (kind === 'time') return 60 * Number(text.split(':')[0]) + Number(text.split(':')[1]);
  if (kind === 'yes_no') return text === 'yes';
  return text !== '' && Number.isFinite(Number(text)) ? Number(text) : text;
}

/** A value without regard to its pressure unit, to a hundredth of a kPa. */
function plainly(entry: Entry, kind: string, unit: Entry | undefined): string {
  return kind === 'pressure' && typeof entry === 'number' ? (entry * KPA_PER[String(unit ?? 'psi')]!).toFixed(2) : String(entry);
}

const values = (name: string): Set<string> => new Set(fleet.map((row) => row[name]!));

beforeAll(async () => {
  maker = (await import(pathToFileURL(script).href)) as FleetMaker;
  fleet = maker.makeFleet(maker.SEED);
  clean = await evaluateFile(CLEAN);
  messy = await evaluateFile(MESSY);
});

describe('the files', () => {
  test('are made again byte for byte by the script', () => {
    const folder = mkdtempSync(join(tmpdir(), 'fleet-'));
    try {
      execFileSync(process.execPath, [script, folder]);
      for (const name of [CLEAN, MESSY]) expect(readFileSync(join(folder, name)).equals(readFileSync(sample(name)))).toBe(true);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  test('change with the seed', () => {
    expect(maker.cleanCsv(maker.makeFleet(maker.SEED + 1))).not.toBe(maker.cleanCsv(fleet));
  });

  // RFC 4180, section 2: records end with CRLF; quotes only around fields that need them, doubled within.
  test.each([CLEAN, MESSY])('%s ends every line with CRLF and nothing else', (name) => {
    const text = readFileSync(sample(name), 'utf8');
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });
});

describe('the clean fleet', () => {
  test('is as large and as mixed as a fleet for a demonstration must be', () => {
    expect(values('unit').size).toBe(33);
    expect([...values('site')].sort()).toStrictEqual(['Kestrel Quay', 'Millrace Yard', 'Saltpan Depot']);
    expect([...values('vehicle_kind')].sort()).toStrictEqual(['bus', 'tractor', 'trailer', 'truck']);
    expect([...values('pressure_unit')].sort()).toStrictEqual(['bar', 'kPa', 'psi']);
    expect([...values('gauge_step')].sort()).toStrictEqual(['', '0.1', '1', '25', '5']);
    expect([...values('vehicles')].sort()).toStrictEqual(['', '1', '2', '3']);
    expect(values('record_kind')).toStrictEqual(new Set(['invented']));
    expect(fleet.length).toBeGreaterThanOrEqual(240);
    expect(fleet.length).toBeLessThanOrEqual(300);
  });

  test('spans two years, by date, with every inspection numbered once', () => {
    const dates = fleet.map((row) => row.inspected_on!);
    expect(dates).toStrictEqual([...dates].sort());
    expect(dates[0]! >= '2024-11-01').toBe(true);
    expect(dates.at(-1)! <= '2026-10-31').toBe(true);
    expect(values('inspection_id').size).toBe(fleet.length);
  });

  test('uses the columns of the readings table in their order, with one of its own among them', () => {
    const names = plan.dictionary.fields.slice(0, plan.dictionary.standardCount).map(({ name }) => name);
    const neverUsed = ['reservoir_volume', 'required_reservoir_volume'];
    expect(maker.COLUMNS.filter((name) => name !== 'record_kind')).toStrictEqual(names.filter((name) => !neverUsed.includes(name)));
    for (const name of maker.COLUMNS) expect(fleet.filter((row) => row[name] !== '').length, name).toBeGreaterThan(0);
  });

  test('is read without a problem, each value as it stands', () => {
    const { reader, evaluations } = clean;
    // The one needle that rises in the scenario is asked about; nothing else is.
    expect(reader.problems.map(({ code }) => code)).toStrictEqual(['rise_in_test']);
    expect(reader.counts).toStrictEqual({ rowsRead: fleet.length, rowsBlank: 0, rowsSetAside: 0, inspections: fleet.length });
    expect(reader.extraHeaders).toStrictEqual(['record_kind']);
    for (const { inspection } of evaluations) {
      expect([...inspection.asFound]).toStrictEqual([]);
      expect(inspection.extra).toStrictEqual(['invented']);
    }
  });

  test('has passes, failures, rechecks and tests left out', () => {
    const mix = tally(clean.evaluations.map(({ verdict }) => verdict));
    expect(mix.recheck).toBeGreaterThanOrEqual(3);
    expect(mix['not tested']).toBeGreaterThanOrEqual(3);
    const failRate = mix.fail! / (mix.pass! + mix.fail!);
    expect(failRate).toBeGreaterThan(0.08);
    expect(failRate).toBeLessThan(0.2);
    const failed = clean.evaluations.flatMap(({ checks }) => checks.filter(({ verdict }) => verdict === 'fail').map(({ check }) => check));
    expect(Object.keys(tally(failed)).sort()).toStrictEqual(['applied_loss', 'buildup', 'released_loss', 'warning']);
  });

  test('has the rechecks that were put in', () => {
    const reasons = clean.evaluations.filter(({ verdict }) => verdict === 'recheck').map(({ unit, reason }) => `${unit}: ${reason}`);
    for (const words of ['K-105: .*timed for 45 s', 'M-201: .*gauge rose from', 'K-101: .*left to settle for 2 min 30 s', 'K-106: .*short of the cut-out']) {
      expect(reasons.some((reason) => new RegExp(words).test(reason)), words).toBe(true);
    }
  });

  test('has one site that is clearly worse', () => {
    const site = (which: readonly Evaluation[]): Record<string, number> => tally(which.map(({ row }) => fleet[row - 2]!.site!));
    const all = site(clean.evaluations);
    const failed = site(clean.evaluations.filter(({ verdict }) => verdict === 'fail'));
    const rate = (name: string): number => failed[name]! / all[name]!;
    expect(rate('Saltpan Depot')).toBeGreaterThan(2 * Math.max(rate('Kestrel Quay'), rate('Millrace Yard')));
  });

  test('points each retest, and each repair, at a failure of the same unit', () => {
    const byId = new Map(clean.evaluations.map((evaluation) => [evaluation.inspection_id, evaluation]));
    const retests = fleet.filter((row) => row.retest_of !== '');
    expect(retests.length).toBeGreaterThan(15);
    for (const retest of retests) {
      const first = byId.get(retest.retest_of!);
      expect([retest.inspection_id, first?.unit, first?.verdict]).toStrictEqual([retest.inspection_id, retest.unit, 'fail']);
      expect(first!.inspected_on! < retest.inspected_on!).toBe(true);
    }
    const repaired = fleet.filter((row) => row.repaired_on !== '');
    expect(repaired.map((row) => row.inspection_id).sort()).toStrictEqual(retests.map((row) => row.retest_of).sort());
  });

  test('has failures still open at the end, and a retest that failed', () => {
    const followed = new Set(fleet.map((row) => row.retest_of));
    const failed = clean.evaluations.filter(({ verdict }) => verdict === 'fail');
    expect(failed.filter(({ inspection_id }) => !followed.has(inspection_id!)).map(({ unit }) => unit)).toStrictEqual(['M-207', 'S-307', 'K-105', 'K-102']);
    expect(failed.some(({ row }) => fleet[row - 2]!.retest_of !== '')).toBe(true);
  });

  test('has the gauge readings of a fleet: psi of circuits charged, losses, warnings and governors', () => {
    for (const { measures, inspection_id } of clean.evaluations) {
      const { cut_in: cutIn, cut_out: cutOut, applied_loss: applied } = measures;
      expect(Number(cutIn), inspection_id!).toBeGreaterThan(94);
      expect(Number(cutOut), inspection_id!).toBeLessThan(132);
      if (applied !== null) expect(Number(applied), inspection_id!).toBeLessThan(12);
    }
  });
});

describe('the messy fleet', () => {
  test('loses no row: a title, an empty line and the header stand above, one row is blank', () => {
    const { reader, evaluations } = messy;
    expect(reader.headerRow).toBe(3);
    expect(reader.counts).toStrictEqual({ rowsRead: 41, rowsBlank: 1, rowsSetAside: 0, inspections: 40 });
    expect(evaluations).toHaveLength(40);
    expect(reader.extraHeaders).toStrictEqual(['Bay', 'record_kind', 'Weather']);
    for (const { inspection } of evaluations) expect(inspection.extra[1]).toBe('invented');
    expect(evaluations.find(({ row }) => row === 34)!.inspection.extra[3]).toBe('hose ordered');
  });

  test('has exactly the problems that were put in', () => {
    const problems = messy.reader.problems.map(({ code, row, column, cell, found }) => [code, row, column, cell, found]);
    expect(problems.sort((a, b) => Number(a[1]) - Number(b[1]))).toStrictEqual([
      ['not_understood', 6, 'released_primary_start', 'U6', '?'],
      ['not_understood', 9, 'released_secondary_start', 'W9', '11O'],
      ['implausible', 10, 'applied_primary_end', 'AA10', '1040'],
      ['not_understood', 14, 'released_time', 'Y14', '1'],
      ['inspection_id_twice', 16, 'inspection_id', 'A16', 'IN-0238'],
      ['not_understood', 18, 'vehicle_kind', 'D18', 'lorry'],
      ['retest_of_unknown', 20, 'retest_of', 'AJ20', 'IN-0424'],
      ['required_blank', 30, 'unit', 'C30', ''],
      ['not_understood', 31, 'audible_leak', 'AF31', 'ok'],
      ['not_understood', 32, 'inspected_on', 'B32', '31 Sept 2026'],
      ['cells_beyond_header', 34, '', 'AN34', 'hose ordered'],
      ['not_understood', 35, 'buzzer_on_at', 'T35', 'none'],
      ['not_understood', 39, 'released_secondary_end', 'X39', '745 / 740'],
      ['not_understood', 43, 'buildup_time', 'Q43', '2.59'],
    ]);
  });

  test('means the same as the clean rows wherever it was understood, and loses no filled cell but those typed unclear', () => {
    const sheets = fleet.filter((row) => row.inspection_id! >= 'IN-0232');
    const typedOtherwise = new Set(['10 applied_primary_end', '16 inspection_id', '20 retest_of', '27 notes', '29 buzzer_on_at']);
    const positions = messy.reader.columns.flatMap((column) => (column.role === 'field' ? [column.position] : []));
    const unitAt = plan.dictionary.position.get('pressure_unit')!;
    const lost: string[] = [];
    for (const [index, { row, inspection }] of messy.evaluations.entries()) {
      const sheet = sheets[index]!;
      for (const position of positions) {
        const { name, kind } = plan.dictionary.fields[position]!;
        const [entry, where] = [inspection.values[position] ?? null, `${row} ${name}`];
        if (position === unitAt || typedOtherwise.has(where)) continue;
        if (entry === null && sheet[name] !== '') lost.push(where);
        if (entry !== null) expect(plainly(entry, kind, inspection.values[unitAt]), where).toBe(plainly(fromClean(sheet[name]!, kind), kind, sheet.pressure_unit));
      }
    }
    expect(lost.sort()).toStrictEqual([
      '14 released_time', '18 vehicle_kind', '21 cut_in', '21 cut_out', '28 applied_settle_time', '30 unit', '31 audible_leak', '32 inspected_on',
      '35 buzzer_on_at', '39 released_secondary_end', '43 buildup_time', '6 released_primary_start', '9 released_secondary_start',
    ]);
  });

  test.each<[row: number, name: string, typed: string | undefined, entry: string | number]>([
    [4, 'released_time', '60 s', 60],
    [5, 'inspected_on', '24/7/26', '2026-07-24'],
    [5, 'released_primary_end', '835\u00a0kPa', 835 / 6.894757],
    [7, 'buildup_time', '3m 12s', 192],
    [8, 'released_primary_start', '8,2', 8.2],
    [19, 'cut_out', '8.7bar', 870 / 6.894757],
    [22, 'released_secondary_start', '116-118', 117],
    [22, 'released_primary_end', '~116', 116],
    [27, 'notes', undefined, '=see sheet of K-103'],
    [29, 'buzzer_on_at', 'Never', 'never'],
    [33, 'released_primary_start', '\uff11\uff12\uff13', 123],
  ])('row %d, %s: %s is understood and kept as typed', (row, name, typed, entry) => {
    const { inspection } = messy.evaluations.find((evaluation) => evaluation.row === row)!;
    const understood = inspection.values[plan.dictionary.position.get(name)!]!;
    if (typeof entry === 'number') expect(understood).toBeCloseTo(entry, 3);
    else expect(understood).toBe(entry);
    expect(inspection.asFound.get(name)).toBe(typed);
  });

  test('takes marks for not tested as blank', () => {
    const { inspection } = messy.evaluations.find(({ row }) => row === 21)!;
    for (const name of ['cut_in', 'cut_out']) expect(inspection.values[plan.dictionary.position.get(name)!]).toBe(null);
    expect(inspection.notRead).toStrictEqual([]);
  });
});
