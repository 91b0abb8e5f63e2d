import { beforeAll, describe, expect, it } from 'vitest';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import type { UnitSummary } from '../../src/fleet/unit-summary.js';
import { isoDateToSerial } from '../../src/readings/date-serial.js';
import { columnLetters } from '../../src/util/column-letters.js';
import type { EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { oneUnitColumns } from '../../src/workbook/sheets/one-unit-columns.js';
import { MOST_SHOWN, OFF_CHART, ONE_UNIT_FIRST_ROW, ONE_UNIT_SHEET, ONE_UNIT_TITLE_ROW } from '../../src/workbook/sheets/one-unit-places.js';
import { blankWorkbook, workbookOf } from '../../src/workbook/write-workbook.js';
import { misplacedInChart } from '../formats/xlsx-package/misplaced-in-chart.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { once } from '../support/once.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { COURSE_ROWS, SAID, shownUnit, type ShownUnit } from './course-fleet.js';
import { requireEditing, editInLibreOffice } from './edit-in-libreoffice.js';
import { followUpFleet, typedFollowUp } from './follow-up-fleet.js';
import { recalculatedTwins } from './recalculated-twins.js';
import { asCell, rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

let fleet: EvaluatedFleet;
let book: Uint8Array;
beforeAll(async () => {
  fleet = await followUpFleet(COURSE_ROWS);
  book = await bytesOf(workbookOf(fleet));
});

const cells = (values: readonly (PlainCell | undefined)[]): PlainCell[] => values.map((value) => asCell(value ?? null));
/** Cells without the blank ones at their end. */
const trimmed = (values: readonly PlainCell[]): PlainCell[] => values.slice(0, values.findLastIndex((value) => value !== null) + 1);
const pick = (unit: string): string => `cell("${ONE_UNIT_SHEET}", "B4").String = ${JSON.stringify(unit)}`;

/** Units that are chosen one after the other, without a recalculation of everything. */
const STEPS = ['S-2', 'N-7', 'E-6', 'P-8', 'S-2', 'R-1'];

/** The workbook after each change that is made in LibreOffice, by the unit that is chosen or by name; it starts once for all. */
const edited = once(() =>
  editInLibreOffice<string>(book, {
    ...Object.fromEntries(Object.keys(SAID).map((unit) => [unit, pick(unit)])),
    'another day': `${pick('P-8')}; cell("${ONE_UNIT_SHEET}", "B5").Value = ${isoDateToSerial('2025-04-30')!}`,
    'followed at once': [
      'area = cell("One unit", "A1:CZ89")',
      'def shown(unit):',
      '    cell("One unit", "B4").String = unit',
      '    return [cell("One unit", "A6").String, area.getDataArray()]',
      `followed = [shown(unit) for unit in ${JSON.stringify(STEPS)}]`,
      'for number, at_once in enumerate(followed):',
      `    cell("One unit", "B4").String = ${JSON.stringify(STEPS)}[number]`,
      '    book.calculateAll()',
      '    recalculated = area.getDataArray()',
      '    cell("Start here", "Y%d" % (1 + number)).Value = sum(a != b for one, other in zip(at_once[1], recalculated) for a, b in zip(one, other))',
      '    cell("Start here", "Z%d" % (1 + number)).String = at_once[0]',
    ].join('\n'),
  }),
);

/** The dated inspections of a unit by the rules of the fleet: by day, then by row. */
function inOrder(unit: string): Evaluation[] {
  const own = fleet.evaluations.filter((evaluation) => evaluation.unit!.toLowerCase() === unit.toLowerCase() && evaluation.inspected_on !== null);
  return own.sort((a, b) => (a.inspected_on! < b.inspected_on! ? -1 : a.inspected_on! > b.inspected_on! ? 1 : a.row - b.row));
}

/** What the library tells of a unit, as the sheet shows it. */
function told({ unit, trend_of, trends }: UnitSummary): Record<string, PlainCell | PlainCell[]> {
  const rows = inOrder(unit);
  const latest = rows.slice(-MOST_SHOWN);
  const days = trend_of === null ? null : trends[0]!;
  const control = days?.control ?? null;
  return {
    inspections: rows.length,
    number: latest.map((_, index) => rows.length - latest.length + index + 1),
    date: latest.map(({ inspected_on: on }) => isoDateToSerial(on!)),
    inspection: trimmed(latest.map(({ inspection_id: id }) => id)),
    verdict: latest.map(({ verdict }) => verdict),
    released: trimmed(cells(latest.map(({ measures }) => measures['released_loss']))),
    applied: trimmed(cells(latest.map(({ measures }) => measures['applied_loss']))),
    leading: trend_of === null ? null : trend_of === 'released_loss' ? 'Released loss' : 'Applied loss',
    since: trend_of === null ? null : days!.since_repair === null ? 'its first inspection' : isoDateToSerial(days!.since_repair),
    dates: days?.dates.map((date) => isoDateToSerial(date)) ?? [],
    losses: cells(days?.losses ?? []),
    centre: asCell(control?.centre ?? null),
    upper: asCell(control?.upper ?? null),
    lower: asCell(control?.lower ?? null),
    target: asCell(control?.cusum_target ?? null),
    decision: asCell(control?.cusum_limit ?? null),
    high: cells(control?.cusum_high ?? []),
    low: cells(control?.cusum_low ?? []),
    signal: trend_of === null ? null : (control?.signals.join('; ') ?? 'too few inspections'),
  };
}

function shownAs({ figure, column }: ShownUnit): Record<string, PlainCell | PlainCell[]> {
  const figures = Object.fromEntries(['inspections', 'since', 'centre', 'upper', 'lower', 'target', 'decision', 'signal'].map((id) => [id, asCell(figure(id))]));
  const columns = Object.fromEntries(['number', 'date', 'inspection', 'verdict', 'high', 'low'].map((id) => [id, cells(column(id))]));
  return { ...figures, ...columns, leading: figure('leading_title'), released: cells(column('loss0')), applied: cells(column('loss1')), dates: column('point_date'), losses: cells(column('point_loss')) };
}

describe('the sheet One unit', { timeout: 300_000 }, () => {
  it('shows the first of Units, the worst, when it is written', async () => {
    const worst = fleet.summary.units[0]!;
    expect(worst.unit).toBe('R-1');
    const shown = await shownUnit(book, fleet.plan);
    expect((await rowsOfSheet(book, ONE_UNIT_SHEET)).get(4)![1]).toBe('R-1');
    expect(shownAs(shown)).toStrictEqual(told(worst));
    expect(shown.said).toBe(SAID['R-1']);
    // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (printed): mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159.
    for (const [id, printed] of [['centre', 50.81], ['mean_moved', 1.8778], ['upper', 55.8041], ['lower', 45.8159]] as const) expect([id, Math.abs((shown.figure(id) as number) - printed) < 6e-5]).toStrictEqual([id, true]);
  });

  // The outside source is LibreOffice, which computes a twin of the workbook that holds no results.
  it('has formulas that give in LibreOffice what is stored, also without a date or a loss', async (context) => {
    requireOutside(context, 'soffice');
    const fleets = [fleet, await followUpFleet(COURSE_ROWS.filter(({ unit }) => unit === 'N-7' || unit === 'Z-10')), await followUpFleet(COURSE_ROWS.filter(({ unit }) => unit === 'N-7'))];
    const recalculated = await recalculatedTwins(fleets);
    for (const [index, one] of fleets.entries()) {
      const { compared, differences } = await compareWith(await bytesOf(workbookOf(one)), recalculated[index]);
      expect(differences.filter(({ cell }) => cell.startsWith(`${ONE_UNIT_SHEET}!`))).toStrictEqual([]);
      expect(compared).toBeGreaterThan(2000);
    }
  });

  it('follows the unit that is chosen: its inspections in order, its control chart and what it signals are those of the library', async (context) => {
    await requireEditing(context);
    const picked = await edited();
    for (const unit of Object.keys(SAID)) {
      const workbook = picked[unit]!;
      const shown = await shownUnit(workbook, fleet.plan);
      expect([unit, shown.said]).toStrictEqual([unit, SAID[unit]]);
      const summary = fleet.summary.units.find((one) => one.unit === unit)!;
      // The library goes back further than the sheet does.
      if (summary.inspections > MOST_SHOWN) expect([unit, shown.column('number').length, shown.column('number')[0]]).toStrictEqual([unit, MOST_SHOWN, summary.inspections - MOST_SHOWN + 1]);
      else expect([unit, shownAs(shown)]).toStrictEqual([unit, told(summary)]);
      // What the charts are drawn from: a number in every row, for a text would be drawn as 0.
      const drawn = oneUnitColumns(fleet.plan, shown.layout.losses).filter(({ part, id }) => part === 'chart' && !id.endsWith('_count'));
      for (const { id, rows } of drawn) expect([unit, id, shown.column(id).filter((cell) => typeof cell === 'number').length]).toStrictEqual([unit, id, rows ?? MOST_SHOWN]);
    }
    // Worked out by hand: the medians of 1 and 3, of 2, 5 and 4, of 1 and 2; the repair of 1 May took effect, that of 1 July did not.
    expect((await shownUnit(picked['E-6']!, fleet.plan)).column('point_loss')).toStrictEqual([2, 4, 1.5]);
    expect(cells((await shownUnit(picked['P-8']!, fleet.plan)).column('point_loss'))).toStrictEqual([1, 1.2, 1.1, 1.3, 1.2, 1.4]);
    expect((await shownUnit(picked['P-8']!, fleet.plan)).figure('since')).toBe(isoDateToSerial('2025-05-01'));
  });

  it('follows at once, without a recalculation of everything, and back again', async (context) => {
    await requireEditing(context);
    const rows = await rowsOfSheet((await edited())['followed at once']!, 'Start here');
    expect(STEPS.map((_, index) => rows.get(index + 1)!.slice(24, 26))).toStrictEqual(STEPS.map((unit) => [0, SAID[unit]]));
  });

  it('repeats the last point below it, lets a limit reach the edge, and draws nothing where there is nothing', async (context) => {
    await requireEditing(context);
    const picked = await edited();
    const [one, none, still] = await Promise.all(['O-5', 'N-7', 'M-4'].map((unit) => shownUnit(picked[unit]!, fleet.plan)));
    const day = isoDateToSerial('2025-04-01')!;
    const all = (value: PlainCell): PlainCell[] => Array.from({ length: MOST_SHOWN }, () => value);
    expect(one!.column('drawn0_x')).toStrictEqual(all(day));
    expect(one!.column('drawn0_y')).toStrictEqual(all(1.25));
    expect(one!.column('bound0_x')).toStrictEqual([day, ...all(day + 10).slice(1)]);
    expect(one!.column('bound0_y')).toStrictEqual(all(3));
    expect(one!.column('frame_x')).toStrictEqual([day - 10, day + 10]);
    for (const id of ['drawn1_y', 'cusum_y', 'control_upper']) expect([id, one!.column(id)]).toStrictEqual([id, all(OFF_CHART)]);
    const latest = Math.max(...COURSE_ROWS.map(({ inspected_on: on }) => isoDateToSerial(on!) ?? 0));
    expect(none!.column('drawn0_x')).toStrictEqual(all(latest));
    for (const id of ['drawn0_y', 'bound0_y', 'control_y', 'control_centre', 'cusum_y']) expect([id, none!.column(id)]).toStrictEqual([id, all(OFF_CHART)]);
    expect(still!.column('control_y')).toStrictEqual(all(2));
    expect(still!.column('control_upper')).toStrictEqual(all(OFF_CHART));
  });

  it('shows how things stood on another day that is typed', async (context) => {
    await requireEditing(context);
    const shown = await shownUnit((await edited())['another day']!, fleet.plan);
    expect([shown.figure('inspections'), shown.column('point_loss'), shown.figure('signal'), shown.figure('since')]).toStrictEqual([2, [5, 6], 'too few inspections', 'its first inspection']);
  });

  it('shows in a blank workbook into which the fleet is typed what the evaluated one shows', async (context) => {
    await requireEditing(context);
    const blank = await shownUnit(await bytesOf(blankWorkbook({ limits: 'common-practice', rows: 5 })), fleet.plan);
    expect([blank.said, blank.figure('inspections'), blank.column('date')]).toStrictEqual(['Choose a unit in the yellow cell.', 0, []]);
    const { picked } = await editInLibreOffice(await typedFollowUp(context, COURSE_ROWS), { picked: pick('R-1') });
    const [typed, evaluated] = await Promise.all([picked, book].map((workbook) => rowsOfSheet(workbook, ONE_UNIT_SHEET)));
    const differing = [...evaluated!].flatMap(([row, line]) => line.flatMap((cell, index) => (asCell(cell) === asCell(typed!.get(row)?.[index] ?? null) ? [] : [`${columnLetters(index)}${row}`])));
    expect(differing).toStrictEqual([]);
    expect([...evaluated!.keys()].length).toBeGreaterThan(MOST_SHOWN);
  });

  it('offers the units of the sheet Units, and nothing else of it can be typed over', async () => {
    const parts = await workbookParts(book);
    const xml = parts.get(sheetPath(parts, ONE_UNIT_SHEET))!;
    expect(/<dataValidation [^>]*type="list"[^>]*>.*?<\/dataValidation>/.exec(xml)![0]).toMatch(/sqref="B4"[^>]*>.*<formula1>units_unit<\/formula1>/);
    expect(parts.get('xl/workbook.xml')).toMatch(/<definedName name="units_unit">'?Units'?!\$A\$7:\$A\$22<\/definedName>/);
    expect(xml).toMatch(/<sheetProtection [^>]*sheet="1"/);
    const unlocked = [...parts.get('xl/styles.xml')!.split('<cellXfs')[1]!.split('</cellXfs>')[0]!.matchAll(/<xf [^>]*?(?:\/>|>.*?<\/xf>)/gs)].map(([xf]) => /locked="0"/.test(xf));
    const open = [...xml.matchAll(/<c r="([A-Z]+[0-9]+)"[^>]*? s="([0-9]+)"/g)].filter(([, , style]) => unlocked[Number(style)]).map(([, cell]) => cell);
    expect(open).toStrictEqual(['B4', 'C4', 'B5', 'C5']);
  });

  it('has three charts that stand as the schema has them and are drawn from its cells, in the unit of the losses', async () => {
    const parts = await workbookParts(book);
    const charts = [...parts].filter(([path, xml]) => path.startsWith('xl/charts/') && xml.includes(`'${ONE_UNIT_SHEET}'!`)).map(([, xml]) => xml);
    expect(charts.map((xml) => /<a:t>([^<]*)/.exec(xml)![1])).toStrictEqual(['Losses over time, and their limits', 'Control chart of the leading loss', 'CUSUM of the leading loss, high side']);
    const { layout } = await shownUnit(book, fleet.plan);
    const range = (id: string): string => `'${ONE_UNIT_SHEET}'!${layout.range(id)}`;
    const drawn = [
      [['drawn0_x', 'drawn0_y'], ['drawn1_x', 'drawn1_y'], ['bound0_x', 'bound0_y'], ['bound1_x', 'bound1_y'], ['frame_x', 'frame_y']],
      [['control_x', 'control_y'], ['control_x', 'control_centre'], ['control_x', 'control_upper'], ['control_frame_x', 'frame_y']],
      [['control_x', 'cusum_y'], ['control_x', 'cusum_limit'], ['control_frame_x', 'frame_y']],
    ];
    for (const [index, xml] of charts.entries()) {
      expect(misplacedInChart(xml)).toStrictEqual([]);
      expect([...xml.matchAll(/<c:f>([^<]*)<\/c:f>/g)].map(([, reference]) => reference)).toStrictEqual(drawn[index]!.flat().map(range));
      expect(xml).toContain('(psi/min)</a:t>');
    }
    // The points that are stored in a chart are those of the cells.
    const stored = [...charts[1]!.split('<c:yVal>')[1]!.split('</c:yVal>')[0]!.matchAll(/<c:v>([^<]*)<\/c:v>/g)].map(([, value]) => asCell(Number(value)));
    expect(stored).toStrictEqual(cells((await shownUnit(book, fleet.plan)).column('control_y')));
  });

  it('prints every inspection of the unit that has most, and one page where all have few', async () => {
    const last = async (workbook: Uint8Array): Promise<number> => Number(/One unit(?:&apos;|')!\$A\$1:\$[A-Z]+\$([0-9]+)</.exec((await workbookParts(workbook)).get('xl/workbook.xml')!)![1]);
    expect(await last(book)).toBe(ONE_UNIT_FIRST_ROW + MOST_SHOWN - 1);
    expect(await last(await bytesOf(workbookOf(await followUpFleet(COURSE_ROWS.filter(({ unit }) => unit === 'R-1')))))).toBe(ONE_UNIT_TITLE_ROW + 34);
  });
});
