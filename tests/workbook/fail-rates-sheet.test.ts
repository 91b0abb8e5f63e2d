import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it, type TestContext } from 'vitest';
import { FAIL_RATE_GROUPS, type FailRateGroup } from '../../src/fleet/group-fail-rate.js';
import type { Reason } from '../../src/fleet/fleet-figures.js';
import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import { columnLetters } from '../../src/util/column-letters.js';
import { evaluateReadings, type EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { pageStarts } from '../../src/workbook/sheets/fail-rates-pages.js';
import { FAIL_RATES_SHEET, MORE_THAN_ROWS, NO_ESTIMATES, PARETO_ROWS, RATE_COLUMNS, REASONS_TITLE_ROW, WORDS_LINES, WORDS_ROW } from '../../src/workbook/sheets/fail-rates-places.js';
import { RATE_HEADINGS } from '../../src/workbook/sheets/fail-rates-tables.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { ownSet, SOURCE } from '../support/evaluate-rows.js';
import { once } from '../support/once.js';
import { requireOutside } from '../support/recalculate.js';
import { convertAllByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';
import { asCell, rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { sheetPath, withSheetChanged, workbookParts } from './workbook-parts.js';
import { computedAllAfterTyping, type TypedTable } from './type-into-blank.js';

type Cells = Readonly<Record<string, string | number>>;
type Result = 'pass' | 'fail' | 'recheck';

/** What passes every check of the set `common-practice`, but for the loss with the brakes released. */
const SOUND: Cells = {
  vehicle_kind: 'truck', gauge_step: 2, applied_primary_start: 100, applied_primary_end: 99, applied_settle_time: '1:30', applied_time: '1:00',
  light_on_at: 70, buzzer_on_at: 70, buildup_from: 60, buildup_to: 122, buildup_time: '4:10',
};
/** That loss; the set allows 3 psi/min, and half a minute is too short to tell. */
const RESULTS: Readonly<Record<Result, Cells>> = {
  pass: { released_primary_start: 104, released_primary_end: 103, released_time: '1:00' },
  fail: { released_primary_start: 104, released_primary_end: 98, released_time: '1:00' },
  recheck: { released_primary_start: 104, released_primary_end: 103, released_time: '0:30' },
};

/** As many inspections as asked for, a month apart through half a year and again. */
function inspections(site: string, counts: Partial<Record<Result, number>>, more: Cells = {}): Cells[] {
  const results = (Object.keys(RESULTS) as Result[]).flatMap((result) => Array.from({ length: counts[result] ?? 0 }, () => result));
  return results.map((result, index) => ({ inspected_on: `2026-0${1 + (index % 6)}-1${index % 9}`, unit: `U${index}`, site, ...SOUND, ...RESULTS[result], ...more }));
}

/**
 * Sites whose names spreadsheet programs take for patterns, formulas, comparisons or one number. Half of all inspections
 * fail, so that the chance of n failures of n is 1 in 2^n.
 */
const ODD_SITES: readonly Cells[] = [
  ...inspections('=1+1', { fail: 6 }, { inspector: 'A. Mark' }),
  ...inspections('K*', { pass: 6 }, { inspector: 'a. mark' }),
  ...inspections('K?', { fail: 10, recheck: 1 }),
  ...inspections('<5', { pass: 10 }),
  ...inspections('K~*', { fail: 5 }),
  ...inspections('007', { pass: 5 }),
  ...inspections('Mill', { pass: 1, fail: 1 }),
  ...inspections('MILL', { fail: 1 }),
  ...inspections('mill', { pass: 1 }, { inspected_on: '' }),
  ...inspections('7', { fail: 1 }),
  ...inspections('Site', { pass: 1 }),
  ...inspections('K9', { recheck: 1 }),
];

/** Tested, failed, recheck and what is said, worked out by hand: 1/64 and 1/32 lie on either side of 2.5 %, 1/1024 below 0.1 %. */
const ODD_SITES_SHOWN: Readonly<Record<string, readonly [number, number, number, string]>> = {
  '=1+1': [6, 6, 0, 'higher than the others'],
  'K*': [6, 0, 0, 'lower than the others'],
  'K?': [10, 10, 1, 'far higher than the others'],
  '<5': [10, 0, 0, 'far lower than the others'],
  'K~*': [5, 5, 0, 'as the others'],
  '007': [5, 0, 0, 'as the others'],
  Mill: [4, 2, 0, 'too few to judge'],
  '7': [1, 1, 0, 'too few to judge'],
  Site: [1, 0, 0, 'too few to judge'],
  K9: [0, 0, 1, 'too few to judge'],
};

/** Failures on either circuit, on both, and on a check that knows none; places in several spellings. */
const REASON_ROWS: readonly Cells[] = [
  ...inspections('Quay', { fail: 2 }, { leak_place: 'glad hand' }),
  ...inspections('Quay', { fail: 1 }, { leak_place: 'Glad Hand', released_secondary_start: 104, released_secondary_end: 90 }),
  ...inspections('Quay', { pass: 3 }, { leak_place: 'glad hand', released_secondary_start: 104, released_secondary_end: 96 }),
  ...inspections('Quay', { pass: 1 }, { leak_place: 'K*', light_on_at: 50, buzzer_on_at: 50 }),
  ...inspections('Quay', { fail: 1 }, { leak_place: 'K9', light_on_at: 50, buzzer_on_at: 50 }),
  // Half a year on, so that the periods are months.
  ...inspections('Quay', { pass: 1 }, { inspected_on: '2026-06-30' }),
  // Neither a passed inspection nor one that could not be decided counts, wherever it was heard.
  ...inspections('Quay', { pass: 2, recheck: 1 }, { leak_place: 'dash valve' }),
];

/** The inspections, evaluated against the set `common-practice`. */
function fleetOf(rows: readonly Cells[]): Promise<EvaluatedFleet> {
  const header = [...new Set(rows.flatMap((cells) => Object.keys(cells)))];
  return evaluateReadings(Buffer.from([header, ...rows.map((cells) => header.map((name) => cells[name] ?? ''))].map((cells) => cells.join(',')).join('\n')), { limits: 'common-practice' });
}

/** The tables of rates by group; each a list of rows, the cells of {@link RATE_COLUMNS}. */
async function tablesOf(workbook: Uint8Array): Promise<Record<FailRateGroup, PlainCell[][]>> {
  const rows = await rowsOfSheet(workbook, FAIL_RATES_SHEET);
  const table = (group: FailRateGroup): PlainCell[][] => {
    const found: PlainCell[][] = [];
    const [heading] = [...rows].find(([, cells]) => cells[0] === RATE_HEADINGS[group])!;
    for (let number = heading + 2; rows.get(number)?.[0] != null; number++) found.push(RATE_COLUMNS.map((_, index) => asCell(rows.get(number)![index] ?? null)));
    return found;
  };
  return Object.fromEntries(FAIL_RATE_GROUPS.map((group) => [group, table(group)])) as Record<FailRateGroup, PlainCell[][]>;
}

function expectedTable({ summary }: EvaluatedFleet, group: FailRateGroup): PlainCell[][] {
  const rates = summary.fail_rates.filter((rate) => rate.group === group);
  return rates.map((rate) => [rate.name, rate.tested, rate.failed, rate.recheck, rate.rate, rate.low, rate.high, rate.estimate, rate.flag].map(asCell));
}

/** The Pareto table below a title. */
async function paretoOf(workbook: Uint8Array, title: string): Promise<PlainCell[][]> {
  const rows = await rowsOfSheet(workbook, FAIL_RATES_SHEET);
  const [titleRow] = [...rows].find(([, cells]) => cells[0] === title)!;
  const found: PlainCell[][] = [];
  for (let number = titleRow + 1; rows.get(number)?.[0] != null; number++) found.push(rows.get(number)!.slice(0, 4).map(asCell));
  return found;
}

const paretoCells = (reasons: readonly Reason[]): PlainCell[][] => reasons.map(({ reason, failed, share, running_share: running }) => [reason, failed, share, running].map(asCell));
const byText = (a: readonly PlainCell[], b: readonly PlainCell[]): number => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);

/** A fleet whose checks know four circuits, one of them failing with others or alone. */
function fourCircuits(): Promise<EvaluatedFleet> {
  const circuits = ['front', 'rear', 'park', 'trailer'];
  const limits = parseLimitSet(
    ownSet({
      columns: circuits.map((circuit) => ({ name: `lost_${circuit}`, kind: 'quantity', title: `Lost, ${circuit}`, help: 'in psi' })),
      measures: [
        ...circuits.map((circuit) => ({ measure: `leak_${circuit}`, title: `Leak, ${circuit}`, unit: 'psi', expression: `lost_${circuit}`, meaning: 'psi lost', circuit })),
        { measure: 'worst_leak', title: 'Leak', unit: 'psi', highest_of: circuits.map((circuit) => `leak_${circuit}`), meaning: 'the worst' },
      ],
      checks: [{ check: 'tight', title: 'Leak', measure: 'worst_leak', unit: 'psi', at_most: 3, source: SOURCE }],
    }),
    'own.json',
  );
  const rows = ['9,0,0,0', '9,9,0,0', '9,9,9,0', '9,9,9,9', '0,9,0,9', '0,9,0,9', '1,1,1,1'].map((cells, index) => `2026-01-0${index + 1},U${index},${cells}`);
  return evaluateReadings(Buffer.from(['inspected_on,unit,lost_front,lost_rear,lost_park,lost_trailer', ...rows].join('\n')), { limits });
}

/** More sites, inspectors and places than a blank workbook has rows for. */
const MANY_NAMES: readonly Cells[] = Array.from({ length: 17 }, (_, index) => inspections(`Depot ${index}`, { fail: 1 }, { inspector: `Person ${index % 12}`, leak_place: `place ${index}` })[0]!);

/** Three sites, with the estimate of their rates drawn to a mean by a weight. */
async function weighed(weight: number | null): Promise<EvaluatedFleet> {
  const fleet = await fleetOf([...inspections('a', { pass: 10, fail: 4 }), ...inspections('b', { pass: 3, recheck: 1 }), ...inspections('c', { recheck: 1 })]);
  return { ...fleet, summary: { ...fleet.summary, priors: [{ group: 'site', mean: 0.136, weight }] } };
}

const FLEETS = {
  sample: () => evaluateReadings(Buffer.from(readFileSync('samples/invented-fleet.csv')), { name: 'fleet.csv' }),
  odd: () => fleetOf(ODD_SITES),
  reasons: () => fleetOf(REASON_ROWS),
  circuits: fourCircuits,
  untested: () => fleetOf(inspections('Quay', { recheck: 1 })),
  published: () => fleetOf([...inspections('a', { pass: 133, fail: 15 }), ...inspections('b', { pass: 20 }), ...inspections('c', { pass: 28, fail: 1 })]),
  weighed: () => weighed(10),
  unweighed: () => weighed(null),
};
type Name = keyof typeof FLEETS;

/** The workbook of each fleet without results, and a blank one, as LibreOffice computed them; it starts once for all. */
const computed = once(async () => {
  const twins = new Map([['blank.xlsx', await bytesOf(blankWorkbook({ limits: 'common-practice', rows: 5 }))]]);
  for (const [name, fleet] of Object.entries(FLEETS)) twins.set(`${name}.xlsx`, await bytesOf(workbookOf(await fleet(), { withoutResults: true })));
  return convertAllByLibreOffice(twins, 'xlsx');
});
const twinOf = async (name: Name | 'blank'): Promise<Uint8Array> => (await computed()).get(`${name}.xlsx`)!;

/** Blank workbooks into which inspections were typed, as LibreOffice saved them after computing. */
let filled: Promise<Record<'odd' | 'reasons' | 'many', Uint8Array>> | undefined;
async function typed(context: TestContext, name: 'odd' | 'reasons' | 'many'): Promise<Uint8Array> {
  const table = (rows: readonly Cells[]): TypedTable => ({ limits: 'common-practice', rows });
  filled ??= computedAllAfterTyping(context, { odd: table(ODD_SITES), reasons: table(REASON_ROWS), many: table(MANY_NAMES) });
  return (await filled)[name];
}

let sample: EvaluatedFleet;
beforeAll(async () => {
  sample = await FLEETS.sample();
});

describe('the sheet Fail rates', { timeout: 240_000 }, () => {
  it('shows every group with the rate, interval, estimate and words of the summary, in its order', async () => {
    for (const fleet of [sample, await fleetOf(ODD_SITES)]) {
      const shown = await tablesOf(await bytesOf(workbookOf(fleet)));
      for (const group of FAIL_RATE_GROUPS) expect([group, shown[group]]).toStrictEqual([group, expectedTable(fleet, group)]);
      expect(shown.site.length + shown.period.length).toBeGreaterThan(8);
    }
  });

  // The outside source is LibreOffice, which computes a twin of the workbook that holds no results.
  it('has formulas that give in LibreOffice what is stored', async (context) => {
    requireOutside(context, 'soffice');
    for (const name of ['sample', 'odd', 'reasons', 'circuits'] as const) {
      const { differences } = await compareWith(await bytesOf(workbookOf(await FLEETS[name]())), await twinOf(name));
      expect(differences.filter(({ cell }) => cell.startsWith(FAIL_RATES_SHEET))).toStrictEqual([]);
    }
  });

  it('counts each site by its own name, whatever signs it holds, and says what stands out', async (context) => {
    requireOutside(context, 'soffice');
    for (const workbook of [await twinOf('odd'), await typed(context, 'odd')]) {
      const { site } = await tablesOf(workbook);
      expect(Object.fromEntries(site.map((cells) => [cells[0], [cells[1], cells[2], cells[3], cells[8]]]))).toStrictEqual(ODD_SITES_SHOWN);
      expect(site.find(([name]) => name === 'K9')!.slice(4, 7)).toStrictEqual([null, null, null]);
      expect(site.find(([name]) => name === '7')![4]).toBe(1);
    }
  });

  it('shows no error in LibreOffice, with groups without a failure, of nothing but failures, and of one inspection', async (context) => {
    requireOutside(context, 'soffice');
    for (const workbook of [await twinOf('odd'), await twinOf('untested')]) {
      const parts = await workbookParts(workbook);
      const xml = parts.get(sheetPath(parts, FAIL_RATES_SHEET))!;
      expect(xml).toContain('<f');
      expect(xml).not.toMatch(/<c [^>]*t="e"/);
    }
  });

  // Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, method 3.
  it('gives the Wilson intervals that are published', async (context) => {
    requireOutside(context, 'soffice');
    const { site } = await tablesOf(await twinOf('published'));
    const interval = (name: string): string[] => site.find((cells) => cells[0] === name)!.slice(5, 7).map((end) => Number(end).toFixed(4));
    expect([interval('a'), interval('b'), interval('c')]).toStrictEqual([['0.0624', '0.1605'], ['0.0000', '0.1611'], ['0.0061', '0.1718']]);
  });

  it('draws the estimate towards the mean in its cell by the weight in its cell', async (context) => {
    requireOutside(context, 'soffice');
    const estimates = async (name: Name): Promise<PlainCell[]> => {
      const { site } = await tablesOf(await twinOf(name));
      return site.sort(byText).map((cells) => cells[7]!);
    };
    // (4 + 1.36) / (14 + 10) and 1.36 / (3 + 10); nothing is estimated of what was not tested.
    expect(await estimates('weighed')).toStrictEqual([0.223333333, 0.104615385, null]);
    expect(await estimates('unweighed')).toStrictEqual([0.136, 0.136, null]);
  });

  it('tells in a blank workbook into which rows are typed what evaluation tells, but for the estimates', async (context) => {
    requireOutside(context, 'soffice');
    for (const name of ['odd', 'reasons'] as const) {
      const [workbook, fleet] = [await typed(context, name), await FLEETS[name]()];
      const shown = await tablesOf(workbook);
      for (const group of FAIL_RATE_GROUPS) {
        const seen = shown[group].filter((cells) => Number(cells[1]) + Number(cells[3]) > 0);
        const expected = expectedTable(fleet, group).filter((cells) => Number(cells[1]) + Number(cells[3]) > 0).map((cells) => cells.with(7, null));
        expect([group, seen.sort(byText)]).toStrictEqual([group, expected.sort(byText)]);
      }
      const { reasons, leak_places: places } = fleet.summary.fleet;
      expect(await paretoOf(workbook, 'Why it failed')).toStrictEqual(paretoCells(reasons));
      expect((await paretoOf(workbook, 'Place heard leaking')).map((cells) => cells.slice(0, 2)).sort(byText)).toStrictEqual(paretoCells(places).map((cells) => cells.slice(0, 2)).sort(byText));
    }
  });

  it('says in a blank workbook that there are more sites, inspectors and places than it has rows for, and verifies clean', async (context) => {
    requireOutside(context, 'soffice');
    const workbook = await typed(context, 'many');
    const shown = [...(await rowsOfSheet(workbook, FAIL_RATES_SHEET)).values()];
    const beside = (heading: string): PlainCell => shown.find(([first]) => first === heading)![1]!;
    expect([beside(RATE_HEADINGS.site), beside(RATE_HEADINGS.inspector)]).toStrictEqual([MORE_THAN_ROWS, NO_ESTIMATES]);
    expect(shown.filter(([first]) => first === MORE_THAN_ROWS)).toHaveLength(1);
    const { findings } = await verifyWorkbook(workbook, { name: 'book.xlsx' });
    expect(findings.filter(({ sheet }) => sheet === FAIL_RATES_SHEET)).toStrictEqual([]);
  });

  it('names the reasons with their circuits and the places, the most frequent first', async (context) => {
    requireOutside(context, 'soffice');
    const twin = await twinOf('reasons');
    const of = (count: number, all: number): number => Math.round((count / all) * 1e9) / 1e9;
    expect(await paretoOf(twin, 'Why it failed')).toStrictEqual([
      ['Loss, brakes released: primary circuit', 3, of(3, 9), of(3, 9)],
      ['Loss, brakes released: secondary circuit', 3, of(3, 9), of(6, 9)],
      ['Low-air warning', 2, of(2, 9), of(8, 9)],
      ['Loss, brakes released: both circuits', 1, of(1, 9), 1],
    ]);
    expect(await paretoOf(twin, 'Place heard leaking')).toStrictEqual([
      ['glad hand', 6, of(6, 8), of(6, 8)],
      ['K*', 1, of(1, 8), of(7, 8)],
      ['K9', 1, of(1, 8), 1],
    ]);
  });

  it('names every combination of four circuits', async (context) => {
    requireOutside(context, 'soffice');
    expect((await paretoOf(await twinOf('circuits'), 'Why it failed')).map((cells) => cells.slice(0, 2))).toStrictEqual([
      ['Leak: rear and trailer circuits', 2],
      ['Leak: all circuits', 1],
      ['Leak: front and rear circuits', 1],
      ['Leak: front circuit', 1],
      ['Leak: front, rear and park circuits', 1],
    ]);
  });

  it('holds values and no formula when it does not count every inspection, and says so', async () => {
    const fleet = { ...sample, asOf: '2026-10-31' };
    const bytes = await bytesOf(workbookOf(fleet));
    const parts = await workbookParts(bytes);
    expect(parts.get(sheetPath(parts, FAIL_RATES_SHEET))).not.toMatch(/<f[ >]/);
    const shown = await tablesOf(bytes);
    for (const group of FAIL_RATE_GROUPS) expect([group, shown[group]]).toStrictEqual([group, expectedTable(fleet, group)]);
    expect(await paretoOf(bytes, 'Why it failed')).toStrictEqual(paretoCells(sample.summary.fleet.reasons));
    expect(await paretoOf(bytes, 'Place heard leaking')).toStrictEqual(paretoCells(sample.summary.fleet.leak_places));
    expect((await rowsOfSheet(bytes, FAIL_RATES_SHEET)).get(2)![0]).toMatch(/Values as of writing\.$/);
  });

  it('says in words what stands out, and of when', async () => {
    const rows = await rowsOfSheet(await bytesOf(workbookOf(sample)), FAIL_RATES_SHEET);
    expect(rows.get(WORDS_ROW)![0]).toBe('What stands out? (computed on writing, for inspections up to 2026-10-30)');
    expect(Array.from({ length: WORDS_LINES }, (_, index) => rows.get(WORDS_ROW + 1 + index)!.slice(0, 2))).toStrictEqual([
      ['Which check fails most?', 'Loss, brakes applied 7.9 % (21 of 265); then Loss, brakes released 3.0 % (8 of 269)'],
      ['Which circuit?', 'Primary circuit 5.6 % (15 of 266); Secondary circuit 4.5 % (12 of 266)'],
      ['Where more than elsewhere?', 'inspector F. Madeup-Orr: far higher than the others, 32.4 % (12 of 37); site Saltpan Depot: higher than the others, 22.2 % (18 of 81)'],
      ['For which reason most?', 'Loss, brakes applied: primary circuit: 11 times, 32.4 % of all failed checks'],
      ['Where was it heard?', 'service hose at right rear chamber: 7 times, 25.9 % of the failed inspections with a place noted'],
    ]);
  });

  it('says in words when nothing failed, and when there is too little', async () => {
    const answers = async (rows: readonly Cells[]): Promise<PlainCell[]> => {
      const found = await rowsOfSheet(await bytesOf(workbookOf(await fleetOf(rows))), FAIL_RATES_SHEET);
      return Array.from({ length: WORDS_LINES }, (_, index) => found.get(WORDS_ROW + 1 + index)![1]!);
    };
    expect(await answers(inspections('Quay', { pass: 1 }))).toStrictEqual([
      'none has failed of those tested at least 5 times',
      'no check that tells circuits apart was tested 5 times',
      'nowhere: at no site, kind of vehicle, inspector or period do more fail than chance explains',
      'nothing failed',
      'no place was noted on a failed inspection',
    ]);
    const long = await answers([...inspections('x'.repeat(300), { fail: 12 }), ...inspections('Quay', { pass: 60 })]);
    expect(String(long[2])).toContain(`site ${'x'.repeat(59)}…: far higher than the others`);
  });

  it('names nothing in a blank workbook before anything is typed, and says where the words and estimates come from', async (context) => {
    requireOutside(context, 'soffice');
    const bytes = await bytesOf(blankWorkbook({ limits: 'common-practice', rows: 5 }));
    for (const workbook of [bytes, await twinOf('blank')]) {
      const rows = await rowsOfSheet(workbook, FAIL_RATES_SHEET);
      expect(rows.get(WORDS_ROW + 1)!.slice(0, 2)).toStrictEqual(['Not computed here', 'evaluate the filled workbook, and this sheet says here what stands out']);
      const shown = await tablesOf(workbook);
      expect([shown.site, shown.inspector, shown.period]).toStrictEqual([[], [], []]);
      expect(shown.check.map((cells) => cells.slice(0, 5))).toStrictEqual(['Loss, brakes released', 'Loss, brakes applied', 'Low-air warning', 'Build-up'].map((name) => [name, 0, 0, 0, null]));
      expect(shown.vehicle_kind.length).toBeGreaterThan(2);
      expect([...rows.values()].filter((cells) => cells[1] === NO_ESTIMATES)).toHaveLength(FAIL_RATE_GROUPS.length - 1);
    }
    // A count of 0 is not shown in a row without a name.
    const parts = await workbookParts(bytes);
    const xml = parts.get(sheetPath(parts, FAIL_RATES_SHEET))!;
    const [siteHeading] = [...(await rowsOfSheet(bytes, FAIL_RATES_SHEET))].find(([, cells]) => cells[0] === RATE_HEADINGS.site)!;
    expect(formatOf(parts, xml, `B${siteHeading + 2}`)).toBe('0;-0;;@');
  });
});

function formatOf(parts: ReadonlyMap<string, string>, sheet: string, cell: string): string | undefined {
  const style = Number(new RegExp(`<c r="${cell}"[^>]* s="(\\d+)"`).exec(sheet)![1]);
  const styles = parts.get('xl/styles.xml')!;
  const id = /numFmtId="(\d+)"/.exec([.../<cellXfs[^>]*>([\s\S]*?)<\/cellXfs>/.exec(styles)![1]!.matchAll(/<xf [^>]*>/g)][style]![0])![1];
  return new RegExp(`<numFmt numFmtId="${id}" formatCode="([^"]*)"`).exec(styles)?.[1];
}

describe('the charts of the sheet Fail rates', () => {
  interface Drawn {
    readonly title: string;
    readonly xml: string;
    readonly from: readonly [column: number, row: number];
    readonly to: readonly [column: number, row: number];
  }

  async function chartsOf(workbook: Uint8Array): Promise<Drawn[]> {
    const parts = await workbookParts(workbook);
    const links = (path: string): string => parts.get(path.replace(/([^/]+)$/, '_rels/$1.rels'))!;
    const target = (rels: string, id: string): string => `xl/${new RegExp(`<Relationship [^>]*Id="${id}"[^>]*>`).exec(rels)![0].match(/Target="(?:\.\.\/|\/xl\/)?([^"]+)"/)![1]!}`;
    const sheet = sheetPath(parts, FAIL_RATES_SHEET);
    const drawing = target(links(sheet), /<drawing [^>]*r:id="([^"]+)"/.exec(parts.get(sheet)!)![1]!);
    const at = (anchor: string, end: string): readonly [number, number] => {
      const [, column, row] = new RegExp(`<xdr:${end}><xdr:col>(\\d+)</xdr:col>.*?<xdr:row>(\\d+)</xdr:row>`, 's').exec(anchor)!;
      return [Number(column), Number(row)];
    };
    return parts.get(drawing)!.split('<xdr:twoCellAnchor').slice(1).map((anchor) => {
      const xml = parts.get(target(links(drawing), /<c:chart [^>]*r:id="([^"]+)"/.exec(anchor)![1]!))!;
      return { title: /<a:t>([^<]*)/.exec(xml)![1]!, xml, from: at(anchor, 'from'), to: at(anchor, 'to') };
    });
  }

  const points = (xml: string, part: string): string[] => [...(new RegExp(`<c:${part}>.*?</c:${part}>`, 's').exec(xml)?.[0] ?? '').matchAll(/<c:v>([^<]*)<\/c:v>/g)].map(([, value]) => value!);
  const axisTitles = (xml: string): string[] => [...xml.matchAll(/<c:(?:catAx|valAx)>.*?<a:t>([^<]*)/gs)].map(([, title]) => title!);

  it('show the rates by check and by site with their intervals, and the reasons with their running share', async () => {
    const charts = await chartsOf(await bytesOf(workbookOf(sample)));
    expect(charts.map(({ title, xml }) => [title, ...axisTitles(xml)])).toStrictEqual([
      ['Fail rate by check, with 95 % interval', 'Check', 'Fail rate'],
      ['Fail rate by site, with 95 % interval', 'Site', 'Fail rate'],
      ['Why checks failed: share of all failures', 'Reason', 'Share of all failures'],
    ]);
    const [, bySite, pareto] = charts;
    const sites = sample.summary.fail_rates.filter(({ group }) => group === 'site');
    expect(points(bySite!.xml, 'cat')).toStrictEqual(sites.map(({ name }) => name));
    expect(points(bySite!.xml, 'val').map(Number)).toStrictEqual(sites.map(({ rate }) => rate));
    expect(points(bySite!.xml, 'plus').map(Number)).toStrictEqual(sites.map(({ high, rate }) => high! - rate!));
    expect(points(bySite!.xml, 'minus').map(Number)).toStrictEqual(sites.map(({ low, rate }) => rate! - low!));
    const [bars, line] = pareto!.xml.split('<c:ser>').slice(1);
    expect(points(bars!, 'val').map(Number)).toStrictEqual(sample.summary.fleet.reasons.map(({ share }) => share));
    expect(points(line!, 'val').map(Number)).toStrictEqual(sample.summary.fleet.reasons.map(({ running_share: running }) => running));
    expect(pareto!.xml.split('<c:lineChart>')[1]).toContain('Share down to here');
  });

  it('are drawn from the cells that hold those numbers', async () => {
    const workbook = await bytesOf(workbookOf(sample));
    const rows = await rowsOfSheet(workbook, FAIL_RATES_SHEET);
    let compared = 0;
    for (const { xml } of await chartsOf(workbook)) {
      for (const [, reference, cache] of xml.matchAll(/<c:f>([^<]*)<\/c:f><c:(?:str|num)Cache>(.*?)<\/c:(?:str|num)Cache>/gs)) {
        const [, letters, first, lastLetters, last] = /^'Fail rates'!\$([A-Z]+)\$(\d+):\$([A-Z]+)\$(\d+)$/.exec(reference!.replaceAll('&apos;', "'"))!;
        expect(lastLetters).toBe(letters);
        const index = Array.from({ length: 40 }, (_, at) => columnLetters(at)).indexOf(letters!);
        const cells = Array.from({ length: Number(last) - Number(first) + 1 }, (_, at) => asCell(rows.get(Number(first) + at)?.[index] ?? null)).filter((cell) => cell !== null);
        const cached = [...cache!.matchAll(/<c:v>([^<]*)<\/c:v>/g)].map(([, value]) => value!).filter((value) => value !== '');
        expect(cached.map((value) => (typeof cells[0] === 'number' ? asCell(Number(value)) : value))).toStrictEqual(cells);
        compared += 1;
      }
    }
    expect(compared).toBe(12);
  });

  it('lie over no cell that holds anything, and over none that is printed apart', async () => {
    const many = await fleetOf(Array.from({ length: 40 }, (_, index) => inspections(`Depot ${index}`, { pass: 2, fail: index % 3 }, { leak_place: `place ${index}` })).flat());
    for (const workbook of [await bytesOf(workbookOf(sample)), await bytesOf(workbookOf(many)), await bytesOf(workbookOf(await fleetOf(inspections('Quay', { pass: 1 })))), await bytesOf(blankWorkbook({ rows: 5 }))]) {
      const rows = await rowsOfSheet(workbook, FAIL_RATES_SHEET);
      const charts = await chartsOf(workbook);
      expect(charts).toHaveLength(3);
      for (const { from, to } of charts) {
        const under: string[] = [];
        for (let row = from[1]; row < to[1]; row++) for (let column = from[0]; column < to[0]; column++) if ((rows.get(row + 1)?.[column] ?? null) !== null) under.push(`${columnLetters(column)}${row + 1}`);
        expect(under).toStrictEqual([]);
        expect(to[0]).toBeLessThanOrEqual(RATE_COLUMNS.length);
      }
    }
  });

  it('say of how many sites they show the first', async () => {
    const many = await fleetOf(Array.from({ length: 40 }, (_, index) => inspections(`Depot ${index}`, { pass: 2, fail: 1 })).flat());
    const [, bySite] = await chartsOf(await bytesOf(workbookOf(many)));
    expect(bySite!.title).toBe('Fail rate by site, with 95 % interval (the first 12 of 40)');
    expect(points(bySite!.xml, 'cat')).toHaveLength(12);
  });

  it('leave what they are drawn from outside the printed columns', async () => {
    const parts = await workbookParts(await bytesOf(workbookOf(sample)));
    const rows = await rowsOfSheet(await bytesOf(workbookOf(sample)), FAIL_RATES_SHEET);
    const [, lastColumn, lastRow] = /'Fail rates'!\$A\$1:\$([A-Z]+)\$(\d+)/.exec(parts.get('xl/workbook.xml')!.replaceAll('&apos;', "'"))!;
    expect(lastColumn).toBe(columnLetters(RATE_COLUMNS.length - 1));
    expect(Number(lastRow)).toBe(Math.max(...rows.keys()));
    const helpers = [...rows.values()].filter((cells) => (cells[RATE_COLUMNS.length + 1] ?? null) !== null).map((cells) => cells[RATE_COLUMNS.length + 1]);
    expect(helpers).toContain('Chart data: how far the whiskers reach');
  });
});

describe('pageStarts', () => {
  it('begins a page where a block would be torn, and lets a longer one follow little else', () => {
    expect(pageStarts([])).toStrictEqual([]);
    expect(pageStarts([{ row: 1, height: 200 }, { row: 20, height: 200 }, { row: 40, height: 100 }, { row: 50, height: 900 }, { row: 99, height: 20 }])).toStrictEqual([40]);
    expect(pageStarts([{ row: 1, height: 470 }, { row: 40, height: 1 }])).toStrictEqual([40]);
    expect(pageStarts([{ row: 1, height: 300 }, { row: 40, height: 900 }])).toStrictEqual([40]);
  });

  it('ends the pages of the sheet above the headings of its tables', async () => {
    const workbook = await bytesOf(workbookOf(sample));
    const parts = await workbookParts(workbook);
    const rows = await rowsOfSheet(workbook, FAIL_RATES_SHEET);
    const breaks = [...parts.get(sheetPath(parts, FAIL_RATES_SHEET))!.matchAll(/<brk id="(\d+)"/g)].map(([, row]) => Number(row));
    const headings: readonly PlainCell[] = ['Why checks failed, the most frequent first', ...Object.values(RATE_HEADINGS)];
    expect(breaks[0]).toBe(REASONS_TITLE_ROW - 2);
    expect(breaks.length).toBeGreaterThan(2);
    for (const row of breaks) expect(headings).toContain(rows.get(row + 1)?.[0]);
    expect(REASONS_TITLE_ROW + PARETO_ROWS).toBeLessThan(breaks[1]!);
  });
});

describe('the sheet Fail rates, changed inside the file', { timeout: 60_000 }, () => {
  /** The row of the heading over the sites, that of the first reason, and the first line of words. */
  const [reason, words] = [REASONS_TITLE_ROW + 1, WORDS_ROW + 1];
  let sites: number;
  let book: Uint8Array;
  beforeAll(async () => {
    book = await bytesOf(workbookOf(sample));
    sites = [...(await rowsOfSheet(book, FAIL_RATES_SHEET))].find(([, cells]) => cells[0] === RATE_HEADINGS.site)![0];
  });

  /** What verify tells of the sheet, after the content of one cell was changed. */
  async function told(cell: string, change: (content: string) => string): Promise<string[]> {
    const changed = await withSheetChanged(book, FAIL_RATES_SHEET, (xml) =>
      xml.replace(new RegExp(`<c r="${cell}"([^>]*?)(?: t="[a-zA-Z]+")?(?:/>|>(.*?)</c>)`), (_, attributes: string, content: string | undefined) => `<c r="${cell}"${attributes}${change(content ?? '')}</c>`),
    );
    return (await verifyWorkbook(changed, { name: 'book.xlsx' })).findings.filter(({ sheet }) => sheet === FAIL_RATES_SHEET).map(({ code, cell: place }) => `${code} ${place}`);
  }
  const number = (value: number) => (): string => `><v>${value}</v>`;
  const text = (value: string) => (): string => ` t="inlineStr"><is><t>${value}</t></is>`;

  it('is clean as it was written', async () => {
    expect((await verifyWorkbook(book, { name: 'book.xlsx' })).findings).toStrictEqual([]);
  });

  it('names a value that was typed over a formula: a count, a rate, a reason, a place, a whisker', async () => {
    for (const cell of [`C${sites + 2}`, `E${sites + 3}`, `B${reason}`, `K${sites + 2}`, `L${reason}`]) expect(await told(cell, number(0.2))).toStrictEqual([`formula_replaced ${cell}`]);
    expect(await told(`I${sites + 2}`, text('as the others'))).toStrictEqual([`formula_replaced I${sites + 2}`]);
  });

  it('names a stored value and a formula that are not as they should be', async () => {
    const cell = `E${sites + 2}`;
    expect(await told(cell, (content) => `>${content.replace(/<v>.*<\/v>/, '<v>0.5</v>')}`)).toStrictEqual([`stored_value_differs ${cell}`]);
    expect(await told(cell, (content) => `>${content.replace('<f>', '<f>1*')}`)).toStrictEqual([`formula_changed ${cell}`]);
  });

  it('names what was computed on writing: the words, the mean and the weight', async () => {
    expect(await told(`B${words}`, text('all is well'))).toStrictEqual([`text_changed B${words}`]);
    expect(await told(`H${sites}`, number(0.3))).toStrictEqual([`stored_value_differs H${sites}`]);
    expect(await told(`I${sites}`, number(3))).toStrictEqual([`stored_value_differs I${sites}`]);
  });

  it('names a site that no inspection has, and the one that is missing', async () => {
    expect((await told(`A${sites + 3}`, text('Elsewhere'))).sort()).toStrictEqual(['line_added A' + (sites + 3), 'line_missing ', 'stored_value_differs A' + (sites + 3)]);
  });
});
