import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, runProgram } from '../cli/run-program.js';
import { runOpenpyxl } from '../formats/outside-program.js';
import { LOCALES, placeOf, ZONES } from './places.js';

/** Leap days and the days about them, year ends, weeks 53, the day that Samoa left out, the first days of both spreadsheet calendars. */
const NAMED = ['1904-01-01', '1904-02-29', '1999-12-31', '2000-01-01', '2000-02-28', '2000-02-29', '2000-03-01', '2011-12-29', '2011-12-30', '2011-12-31', '2020-12-31', '2021-01-03', '2024-02-29', '2024-03-01', '2024-12-29', '2024-12-30', '2026-12-31', '2027-01-01', '2100-02-28', '2100-03-01'];
/** The first day of the 1900 calendar on whose number spreadsheet programs agree, and the last that the 1904 calendar has not. */
const BEFORE_1904 = ['1900-03-01', '1903-12-31'];
/** Before 29 February 1900, a day that never was and that one of them counts. */
const NUMBERED_IN_TWO_WAYS = ['1900-01-01', '1900-02-28'];
const AS_OF = '2100-03-31';

/** The days from 2023 to 2027 on which the clocks of a zone are changed, by the time zone database that Node has. */
function daysOfChange(zone: string): string[] {
  const script = `
    const days = [];
    for (let day = new Date(2023, 0, 1); day.getFullYear() < 2028; ) {
      const next = new Date(day.getFullYear(), day.getMonth(), day.getDate() + 1);
      const two = (number) => String(number).padStart(2, '0');
      if (next.getTimezoneOffset() !== day.getTimezoneOffset()) days.push([day.getFullYear(), two(day.getMonth() + 1), two(day.getDate())].join('-'));
      day = next;
    }
    console.log(JSON.stringify(days));`;
  return JSON.parse(execFileSync(process.execPath, ['-e', script], { encoding: 'utf8', env: { ...process.env, TZ: zone } })) as string[];
}

/** What Python's calendar says of days: a year later, the days from it to another, and the ISO week. */
function calendarOf(days: readonly string[], upTo: string): { readonly due: string; readonly open: number; readonly week: string }[] {
  const script = `
import json, sys, datetime, calendar
days, up_to = json.loads(sys.argv[1]), datetime.date.fromisoformat(sys.argv[2])
def of(text):
    day = datetime.date.fromisoformat(text)
    last = calendar.monthrange(day.year + 1, day.month)[1]
    year, week, _ = day.isocalendar()
    return {'due': day.replace(year=day.year + 1, day=min(day.day, last)).isoformat(), 'open': (up_to - day).days, 'week': f'{year}-W{week:02d}'}
print(json.dumps([of(day) for day in days]))`;
  return JSON.parse(execFileSync('python3', ['-c', script, JSON.stringify(days), upTo], { encoding: 'utf8' })) as ReturnType<typeof calendarOf>;
}

interface Evaluated {
  readonly counted_to: string;
  readonly inspections: readonly { readonly inspected_on: string; readonly unit: string }[];
  readonly units: readonly { readonly unit: string; readonly next_due: string; readonly days_open: number }[];
  readonly trend: readonly { readonly period: string; readonly from: string; readonly to: string; readonly inspections: number }[];
}

async function evaluated(args: readonly string[], folder: string, environment: Readonly<Record<string, string>>): Promise<Evaluated> {
  const { code, out, err } = await runProgram(['evaluate', ...args, '--json', '-q'], { folder, environment });
  expect([code, err]).toStrictEqual([0, '']);
  return JSON.parse(out) as Evaluated;
}

/** Each day has a unit of its own, whose inspection fails on it. */
const nameOf = (index: number): string => `K-${100 + index}`;

function tableOf(days: readonly string[]): string {
  return `unit,inspected_on,light_on_at\n${days.map((day, index) => `${nameOf(index)},${day},never\n`).join('')}`;
}

function expectDays({ inspections, units }: Evaluated, days: readonly string[]): void {
  expect(inspections.map(({ unit, inspected_on }) => [unit, inspected_on])).toStrictEqual(days.map((day, index) => [nameOf(index), day]));
  const byUnit = new Map(units.map((unit) => [unit.unit, unit]));
  const told = days.map((_, index) => byUnit.get(nameOf(index))!).map(({ next_due, days_open }) => ({ next_due, days_open }));
  expect(told).toStrictEqual(calendarOf(days, AS_OF).map(({ due, open }) => ({ next_due: due, days_open: open })));
}

describe('dates on which clocks change, leap days and year ends', { timeout: 300_000 }, () => {
  const days = [...new Set([...NAMED, ...ZONES.flatMap(daysOfChange)])].sort();

  it('are many', () => {
    // Two changes a year in New York, St John's, Lord Howe and Casablanca; none in the others since 2021.
    expect(daysOfChange('America/New_York')).toStrictEqual(['2023-03-12', '2023-11-05', '2024-03-10', '2024-11-03', '2025-03-09', '2025-11-02', '2026-03-08', '2026-11-01', '2027-03-14', '2027-11-07']);
    expect(days.length).toBeGreaterThan(45);
  });

  it('are the same in CSV, and in the workbook and the CSV made of it, in every zone; due dates and days open are those of the calendar', async () => {
    await inFolder(async (folder) => {
      const all = [...BEFORE_1904, ...days];
      writeFileSync(join(folder, 'days.csv'), tableOf(all));
      for (const [index, zone] of ZONES.entries()) {
        const [here, there] = [placeOf(zone, LOCALES[index % LOCALES.length]!), placeOf(ZONES[(index + 3) % ZONES.length]!, 'C')];
        const output = `${index}.${index % 2 === 0 ? 'xlsx' : 'csv'}`;
        expectDays(await evaluated(['days.csv', '--as-of', AS_OF, '-o', output], folder, here), all);
        // Written in one place, read in another.
        expectDays(await evaluated([output, '--as-of', AS_OF], folder, there), all);
      }
    });
  });

  it('are the same in workbooks of another maker, in both calendars', async (context) => {
    await inFolder(async (folder) => {
      const script = `
import json, sys, datetime, openpyxl
from openpyxl.utils.datetime import CALENDAR_MAC_1904
days, folder = json.loads(sys.argv[1]), sys.argv[2]
for name in ('1900', '1904'):
    book = openpyxl.Workbook()
    if name == '1904': book.epoch = CALENDAR_MAC_1904
    sheet = book.active
    sheet.append(['unit', 'inspected_on', 'light_on_at'])
    for index, day in enumerate(days):
        sheet.append(['K-%d' % (100 + index), datetime.date.fromisoformat(day), 'never'])
    book.save(folder + '/' + name + '.xlsx')`;
      runOpenpyxl(context, script, JSON.stringify(days), folder);
      for (const [index, book] of ['1900.xlsx', '1904.xlsx'].entries()) {
        for (const zone of [ZONES[1 + index], ZONES[3 + index]]) expectDays(await evaluated([book, '--as-of', AS_OF], folder, placeOf(zone!, 'de_DE.UTF-8')), days);
      }
    });
  });

  it('bound a period, first and last day included, and fall into the ISO week of the calendar', async () => {
    await inFolder(async (folder) => {
      writeFileSync(join(folder, 'days.csv'), tableOf(days));
      const [samoa, newfoundland] = ['Pacific/Apia', 'America/St_Johns'];
      for (const [from, to, zone] of [['2026-03-08', '2026-03-29', newfoundland], ['2011-12-30', '2011-12-30', samoa], ['2020-12-31', '2021-01-03', samoa], ['2024-02-29', '2024-02-29', newfoundland], ['2026-11-01', '2027-01-01', newfoundland]] as const) {
        const inside = days.filter((day) => day >= from && day <= to);
        expect(inside.length).toBeGreaterThan(0);
        const weeks = [...new Set(calendarOf(inside, to).map(({ week }) => week))];
        const { counted_to, trend } = await evaluated(['days.csv', '--from', from, '--to', to, '--by', 'week'], folder, placeOf(zone!, 'ar_EG.UTF-8'));
        expect(counted_to).toBe(to);
        expect(trend.reduce((sum, { inspections }) => sum + inspections, 0)).toBe(inside.length);
        expect(trend.filter(({ inspections }) => inspections > 0).map(({ period }) => period)).toStrictEqual(weeks);
      }
    });
  });

  it('that are none are refused as a bound, and named in a table', async () => {
    await inFolder(async (folder) => {
      const none = [...NUMBERED_IN_TWO_WAYS, '2023-02-29', '1900-02-29', '2100-02-29', '2026-04-31', '2026-13-01'];
      writeFileSync(join(folder, 'days.csv'), tableOf(none));
      for (const option of ['--as-of', '--from', '--to']) {
        const { code, err } = await runProgram(['evaluate', 'days.csv', option, '1900-02-29'], { folder, environment: placeOf('Pacific/Apia', 'C') });
        expect([code, err]).toStrictEqual([2, expect.stringContaining('1900-02-29')]);
      }
      const { out } = await runProgram(['evaluate', 'days.csv', '--json', '-q'], { folder, environment: placeOf('Asia/Kolkata', 'C') });
      const { inspections, problems } = JSON.parse(out) as { inspections: { inspected_on: null }[]; problems: { column: string; found: string }[] };
      expect(inspections.map(({ inspected_on }) => inspected_on)).toStrictEqual(none.map(() => null));
      expect(problems.filter(({ column }) => column === 'inspected_on').map(({ found }) => found)).toStrictEqual(none);
      expect(readFileSync(join(folder, 'days.csv'), 'utf8')).toBe(tableOf(none));
    });
  });
});
