import { beforeAll, describe, expect, it } from 'vitest';
import { isoDateToSerial } from '../../src/readings/date-serial.js';
import { columnLetters } from '../../src/util/column-letters.js';
import type { EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { PALETTE } from '../../src/workbook/palette.js';
import { CHART_DATA, TREND_COLUMNS, type TrendColumnId } from '../../src/workbook/sheets/trend-columns.js';
import { BLANK_MONTHS, LATER_INSPECTIONS, TREND_SHEET, TREND_TITLE_ROW } from '../../src/workbook/sheets/trend-sheet.js';
import { trendSentence } from '../../src/workbook/sheets/trend-words.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { misplacedInChart } from '../formats/xlsx-package/misplaced-in-chart.js';
import { compareWith } from '../support/compare-with-recalculation.js';
import { requireOutside } from '../support/recalculate.js';
import { bytesOf } from './bytes-of.js';
import { dayAfter, losses } from './course-fleet.js';
import { requireEditing, editInLibreOffice } from './edit-in-libreoffice.js';
import { followUpFleet, followUpTable, typedFollowUp } from './follow-up-fleet.js';
import { recalculatedTwins } from './recalculated-twins.js';
import { asCell, rowsOfSheet, type PlainCell } from './sheet-tables.js';
import { computedAllAfterTyping, type TypedTable } from './type-into-blank.js';
import { sheetPath, workbookParts } from './workbook-parts.js';

type Cells = Readonly<Record<string, string>>;

/** A whole inspection, which passes where the released loss is at most 3 psi. */
const whole = (inspected_on: string, unit: string, released: number, seconds = 240): Cells => losses(inspected_on, unit, released, 2, { light_on_at: '70', buzzer_on_at: '70', buildup_time: `${seconds} s` });
const many = <T>(count: number, each: (index: number) => T): T[] => Array.from({ length: count }, (_, index) => each(index));

/** A made-up fleet; in the table its latest inspection stands first. */
const ROWS: readonly Cells[] = [
  ...many(20, (index) => whole(dayAfter('2025-01-06', index), index % 2 === 0 ? `V-${index}` : `v-${index - 1}`, (index + 1) / 10)),
  ...many(29, (index) => whole(dayAfter('2025-02-01', index % 28), `V-${index}`, index === 4 ? 3.5 : 1, 200 + index)),
  whole('2025-04-30', 'V-1', 3.5),
  // Half a minute is too short to decide; and one that was hardly tested.
  losses('2025-05-01', 'V*', null, null, { released_primary_start: '104', released_primary_end: '103', released_time: '0:30' }),
  losses('2025-05-31', 'V1', null, null, { light_on_at: '70', buzzer_on_at: '70' }),
  ...many(8, () => whole('2025-06-30', 'V-2', 2)),
  // Without a day that can be read: in no month.
  whole('', 'V-3', 9),
  whole('soon', 'V-3', 9),
].reverse();

/**
 * Its months, by hand. The Wilson intervals of 0/20 and 1/29 are printed in Newcombe, Statistics in Medicine 17 (1998)
 * 857-872 (0 to 0.1611, 0.0061 to 0.1718); those of 1/1 and 0/8 are worked out by the same formula. Quantiles are type 7
 * of Hyndman and Fan: 90 % of 0.1, 0.2, ... 2.0 lies at 1 + 0.9 * 19 = 18.1, so 1.81; of 200, 201, ... 228 s at 26.2.
 */
const MONTHS: readonly (readonly PlainCell[])[] = [
  ['2025-01', '2025-01-01', '2025-01-31', 20, 10, 20, 0, 0, 0, 0, 0.1611251581, 1.05, 1.81, 2, 2, 240, 240],
  ['2025-02', '2025-02-01', '2025-02-28', 29, 29, 29, 1, 0, 1 / 29, 0.0061132143, 0.1717552188, 1, 1, 2, 2, 214, 225.2],
  ['2025-03', '2025-03-01', '2025-03-31', 0, 0, 0, 0, 0, null, null, null, null, null, null, null, null, null],
  ['2025-04', '2025-04-01', '2025-04-30', 1, 1, 1, 1, 0, 1, 0.2065493144, 1, 3.5, 3.5, 2, 2, 240, 240],
  ['2025-05', '2025-05-01', '2025-05-31', 2, 2, 0, 0, 1, null, null, null, 2, 2, null, null, null, null],
  ['2025-06', '2025-06-01', '2025-06-30', 8, 1, 8, 0, 0, 0, 0, 0.3244075649, 2, 2, 2, 2, 240, 240],
];

const near = (value: PlainCell): PlainCell => (typeof value === 'number' ? Math.round(value * 1e7) / 1e7 : value);
/** The table without the empty rows at its end. */
async function shownPeriods(workbook: Uint8Array): Promise<PlainCell[][]> {
  const rows = [...(await rowsOfSheet(workbook, TREND_SHEET))].filter(([number, cells]) => number > TREND_TITLE_ROW && cells[0] !== null);
  return rows.map(([, cells]) => TREND_COLUMNS.map((_, index) => near(asCell(cells[index] ?? null))));
}
const byHand = MONTHS.map((cells) => cells.map((cell, index) => near(index === 1 || index === 2 ? isoDateToSerial(cell as string) : cell)));
/** The table that the library gives, as the JSON has it. */
const ofLibrary = ({ summary }: EvaluatedFleet): PlainCell[][] => summary.trend.map((period) => TREND_COLUMNS.map((column) => near(asCell(column.id === 'from' || column.id === 'to' ? isoDateToSerial(period[column.id]) : (period[column.id as keyof typeof period] as PlainCell)))));

let fleet: EvaluatedFleet;
let book: Uint8Array;
beforeAll(async () => {
  fleet = await followUpFleet(ROWS);
  book = await bytesOf(workbookOf(fleet));
});

/** Fleets with something missing, or with one thing only. */
const ODD: Readonly<Record<string, readonly Cells[]>> = {
  'one inspection per unit': many(30, (index) => whole(dayAfter('2025-01-01', 9 * index), `V-${index}`, 1 + index / 10)),
  'one day': many(7, (index) => whole('2024-02-29', `V-${index}`, 1 + index)),
  'no day': many(3, () => whole('', 'V-1', 1)),
  'no failure': many(12, (index) => whole(dayAfter('2025-01-01', 20 * index), 'V-1', 2)),
  'nothing but failures': many(12, (index) => whole(dayAfter('2025-01-01', 20 * index), `V-${index % 2}`, 4)),
  'over the turn of the year': many(9, (index) => whole(dayAfter('2025-12-22', 3 * index), 'V-1', 1 + index / 4)),
  'over years': many(14, (index) => whole(dayAfter('2022-11-15', 80 * index), 'V-1', 1 + index / 4)),
};

describe('the sheet Trend', { timeout: 300_000 }, () => {
  it('has a row for each month, also for one without an inspection', async () => {
    expect(await shownPeriods(book)).toStrictEqual(byHand);
    expect(ofLibrary(fleet)).toStrictEqual(byHand);
  });

  // The outside source is LibreOffice, which computes a twin of the workbook that holds no results.
  it('has formulas that give in LibreOffice what is stored and what the library tells', async (context) => {
    requireOutside(context, 'soffice');
    const named = await Promise.all(Object.entries({ months: ROWS, ...ODD }).map(async ([name, rows]) => ({ name, one: await followUpFleet(rows) })));
    const recalculated = await recalculatedTwins(named.map(({ one }) => one));
    for (const [index, { name, one }] of named.entries()) {
      const written = await bytesOf(workbookOf(one));
      const { compared, differences } = await compareWith(written, recalculated[index]);
      expect([name, differences.filter(({ cell }) => cell.startsWith(`${TREND_SHEET}!`))]).toStrictEqual([name, []]);
      expect(compared).toBeGreaterThan(2000);
      expect([name, await shownPeriods(written)]).toStrictEqual([name, name === 'no day' ? [['no dates', ...many(TREND_COLUMNS.length - 1, () => null)]] : ofLibrary(one)]);
    }
  });

  it('goes by week, month or quarter, as the dates reach', async () => {
    const periods = async (name: string): Promise<PlainCell[]> => (await shownPeriods(await bytesOf(workbookOf(await followUpFleet(ODD[name]!))))).map(([period]) => period!);
    // ISO 8601: the week of Thursday 2026-01-01 is the first of 2026; 2024-02-29 was a Thursday, 59 days after Monday 2024-01-01.
    expect(await periods('over the turn of the year')).toStrictEqual(['2025-W52', '2026-W01', '2026-W02', '2026-W03']);
    expect(await periods('one day')).toStrictEqual(['2024-W09']);
    expect((await periods('over years')).slice(0, 3)).toStrictEqual(['2022-Q4', '2023-Q1', '2023-Q2']);
  });

  it('shows in a blank workbook into which the fleet is typed what the evaluated one shows, in 24 months', async (context) => {
    requireOutside(context, 'soffice');
    const typed = await typedFollowUp(context, ROWS);
    expect(await shownPeriods(typed)).toStrictEqual(byHand);
    const [own, other] = await Promise.all([typed, book].map((workbook) => rowsOfSheet(workbook, TREND_SHEET)));
    const data = many(CHART_DATA.length, (index) => TREND_COLUMNS.length + 1 + index);
    for (const row of many(MONTHS.length, (index) => TREND_TITLE_ROW + 1 + index)) expect(data.map((index) => asCell(own!.get(row)![index] ?? null))).toStrictEqual(data.map((index) => asCell(other!.get(row)![index] ?? null)));
    const below = many(BLANK_MONTHS - MONTHS.length + 1, (index) => TREND_TITLE_ROW + 1 + MONTHS.length + index);
    for (const row of below) expect([row, (own!.get(row) ?? []).filter((cell) => cell !== null)]).toStrictEqual([row, []]);
    expect(own!.get(4)!.filter((cell) => cell !== null)).toStrictEqual(['Every figure', 'not computed here', 'evaluate the filled workbook with the program, and these lines say so in words, with the test']);
  });

  it('says in a blank workbook that there are later inspections than its months hold', async (context) => {
    requireOutside(context, 'soffice');
    const upTo = (last: string): TypedTable => followUpTable([whole('2025-01-31', 'V-1', 1), whole(last, 'V-1', 2)]);
    const typed = await computedAllAfterTyping(context, { beyond: upTo('2027-01-01'), within: upTo('2026-12-31') });
    const [beyond, within] = await Promise.all([typed.beyond, typed.within].map((workbook) => rowsOfSheet(workbook, TREND_SHEET)));
    const note = TREND_TITLE_ROW + BLANK_MONTHS + 1;
    expect([beyond!.get(note)![0], within!.get(note)?.[0] ?? null]).toStrictEqual([LATER_INSPECTIONS, null]);
    for (const shown of [beyond!, within!]) expect([shown.get(TREND_TITLE_ROW + 1)![0], shown.get(TREND_TITLE_ROW + 2)![0], shown.get(TREND_TITLE_ROW + BLANK_MONTHS)![0]]).toStrictEqual(['2025-01', '2025-02', '2026-12']);
    expect(within!.get(TREND_TITLE_ROW + BLANK_MONTHS)![3]).toBe(1);
  });

  it('follows a reading that is changed, without a recalculation of everything', async (context) => {
    await requireEditing(context);
    const { changed } = await editInLibreOffice(book, {
      changed: [
        'area = cell("Trend", "A1:AB60")',
        'sheet = book.Sheets.getByName("Readings")',
        'names = sheet.getCellRangeByName("A3:CZ3").getDataArray()[0]',
        'days = [sheet.getCellByPosition(names.index("inspected_on"), row) for row in range(3, 65)]',
        'row = [cell.String[:7] for cell in days].index("2025-04") + 3',
        'sheet.getCellByPosition(names.index("released_primary_end"), row).Value = 159',
        'at_once = area.getDataArray()',
        'book.calculateAll()',
        'cell("Start here", "Y1").Value = sum(a != b for one, other in zip(at_once, area.getDataArray()) for a, b in zip(one, other))',
      ].join('\n'),
    });
    expect((await rowsOfSheet(changed, 'Start here')).get(1)![24]).toBe(0);
    expect((await shownPeriods(changed))[3]!.slice(3, 13)).toStrictEqual([1, 1, 1, 0, 0, 0, 0, near(0.7934506856), 1, 1]);
  });

  it('says in words which way the fleet goes, with the test, and when that was computed', async () => {
    const rows = await rowsOfSheet(book, TREND_SHEET);
    const { trends } = fleet.summary.fleet;
    expect(rows.get(3)![0]).toBe('Does the fleet get better or worse? (computed on writing, for inspections up to 2025-06-30)');
    for (const [index, trend] of trends.entries()) {
      const { figure, direction, sentence } = trendSentence(trend, 'month');
      expect(rows.get(4 + index)!.filter((cell) => cell !== null)).toStrictEqual([figure, direction, sentence]);
    }
    expect(trends.map(({ figure }) => figure)).toStrictEqual(['fail_rate', 'released_loss_median', 'applied_loss_median', 'buildup_time_median']);
    const worse = { figure: 'released_loss_median', test: 'Mann-Kendall', periods: 12, z: 2.31, p: 0.0209, direction: 'getting worse' } as const;
    expect(trendSentence(worse, 'week')).toStrictEqual({ figure: 'Loss, brakes released', direction: 'getting worse', sentence: 'the median rises from week to week (Mann-Kendall test over 12 weeks: z = 2.31, p = 0.021)' });
    expect(trendSentence({ ...worse, z: 0.5, p: 0.617, direction: 'no trend shown' }, 'quarter').sentence).toBe('Mann-Kendall test over 12 quarters: z = 0.50, p = 0.617');
    expect(trendSentence({ figure: 'fail_rate', test: 'Cochran-Armitage', periods: 14, z: -4.31, p: 0.00002, direction: 'getting better' }, 'month')).toStrictEqual({ figure: 'Fail rate', direction: 'getting better', sentence: 'it falls from month to month (Cochran-Armitage test over 14 months: z = -4.31, p < 0.001)' });
  });

  it('says so where there is nothing to test: too few periods, or one rate in all of them', async () => {
    const said = async (name: string): Promise<PlainCell[][]> => {
      const rows = await rowsOfSheet(await bytesOf(workbookOf(await followUpFleet(ODD[name]!))), TREND_SHEET);
      return [4, 5].map((row) => rows.get(row)!.filter((cell) => cell !== null).slice(1));
    };
    expect(await said('one day')).toStrictEqual([['too few weeks', '1 week with a value'], ['too few weeks', '1 week with a value']]);
    expect(await said('no day')).toStrictEqual([['too few months', '0 months with a value'], ['too few months', '0 months with a value']]);
    for (const name of ['no failure', 'nothing but failures']) expect(await said(name)).toStrictEqual([['no trend shown', 'the same in all 8 months'], ['no trend shown', 'Mann-Kendall test over 8 months: z = 0.00, p = 1.000']]);
    // A loss that rises in each of 9 months: p = 2/9! = 0.0000055 (Kendall's exact distribution).
    expect((await said('one inspection per unit'))[1]).toStrictEqual(['getting worse', expect.stringMatching(/^the median rises from month to month \(Mann-Kendall test over 9 months: z = [0-9.]+, p < 0\.001\)$/)]);
  });

  it('marks the words with a fill of their own', async () => {
    const parts = await workbookParts(await bytesOf(workbookOf(await followUpFleet(ODD['one inspection per unit']!))));
    const fillOf = (cell: string): string | undefined => {
      const style = Number(new RegExp(`<c r="${cell}"[^>]* s="([0-9]+)"`).exec(parts.get(sheetPath(parts, TREND_SHEET))!)![1]);
      const styles = parts.get('xl/styles.xml')!;
      const formats = [...styles.split('<cellXfs')[1]!.split('</cellXfs>')[0]!.matchAll(/<xf [^>]*fillId="([0-9]+)"/g)].map(([, fill]) => Number(fill));
      return [...styles.matchAll(/<fill>(.*?)<\/fill>/gs)][formats[style]!]![1]!.match(/fgColor rgb="([0-9A-F]+)"/)?.[1];
    };
    expect([fillOf('C5'), fillOf('C6')]).toStrictEqual([PALETTE.fail.fill, undefined]);
  });

  it('holds values and no formula when the summaries stop at a day', async () => {
    const bytes = await bytesOf(workbookOf({ ...fleet, asOf: '2025-06-30' }));
    const parts = await workbookParts(bytes);
    expect(parts.get(sheetPath(parts, TREND_SHEET))).not.toMatch(/<f[ >]/);
    expect(await shownPeriods(bytes)).toStrictEqual(byHand);
    expect((await rowsOfSheet(bytes, TREND_SHEET)).get(2)![0]).toMatch(/Values as of writing\.$/);
  });

  it('charts rate, losses and build-up from its cells, with whiskers, units on the axes and every element in its place', async () => {
    const parts = await workbookParts(book);
    const charts = [...parts].filter(([path, xml]) => path.startsWith('xl/charts/') && xml.includes(`'${TREND_SHEET}'!`)).map(([, xml]) => xml);
    const all = [...TREND_COLUMNS.map(({ id }) => id), null, ...CHART_DATA.map(({ id }) => id)];
    const range = (id: TrendColumnId): string => {
      const letters = columnLetters(all.indexOf(id));
      return `'${TREND_SHEET}'!$${letters}$${TREND_TITLE_ROW + 1}:$${letters}$${TREND_TITLE_ROW + MONTHS.length}`;
    };
    const drawn: readonly (readonly TrendColumnId[])[] = [
      ['rate_up', 'rate_down', 'period', 'rate', 'period', 'high'],
      ['released_loss_whisker', 'period', 'released_loss_median', 'applied_loss_whisker', 'period', 'applied_loss_median', 'period', 'released_loss_p90', 'period', 'applied_loss_p90'],
      ['buildup_time_whisker', 'period', 'buildup_time_median', 'period', 'buildup_time_p90'],
    ];
    expect(charts.map((xml) => [...xml.matchAll(/<c:f>([^<]*)<\/c:f>/g)].map(([, reference]) => reference))).toStrictEqual(drawn.map((ids) => ids.map(range)));
    expect(charts.map((xml) => [...xml.matchAll(/<a:t>([^<]*)<\/a:t>/g)].map(([, text]) => text))).toStrictEqual([
      ['Fail rate, with its 95 % interval', 'Month', 'Fail rate'],
      ['Loss: median, up to the 90th percentile', 'Month', 'Loss (psi/min)'],
      ['Build-up: median, up to the 90th percentile', 'Month', 'Build-up time (s)'],
    ]);
    for (const xml of charts) expect(misplacedInChart(xml)).toStrictEqual([]);
    // A month without a test has no point, and so no bar: not one of 0.
    const rates = /<c:val>.*?<\/c:val>/.exec(charts[0]!)![0];
    expect([...rates.matchAll(/<c:pt idx="([0-9]+)">/g)].map(([, index]) => Number(index))).toStrictEqual([0, 1, 3, 5]);
  });
});
