import { FAIL_RATE_GROUPS, type FailRateGroup, type GroupFailRate, type RatePrior } from '../fleet/group-fail-rate.js';
import { groupFlag } from '../fleet/group-flag.js';
import { estimatedRate } from '../fleet/rate-prior.js';
import type { FleetSummary } from '../fleet/summary.js';
import { APART_FROM, FAIL_RATES_SHEET, RATE_COLUMNS } from './sheets/fail-rates-places.js';
import { NO_ROWS_WORDS, PRIOR_COLUMNS, RATE_HEADINGS } from './sheets/fail-rates-tables.js';
import { TREND_SHEET, TREND_TITLE_ROW } from './sheets/trend-sheet.js';
import { UNITS_SHEET, UNITS_TITLE_ROW } from './sheets/unit-places.js';
import { titlesMovedBy } from './verify-placed-sheet.js';
import type { Line } from './verify-line.js';
import { showContent, type CellContent, type VerifyTally } from './verify-tally.js';

/** The lines of a sheet of the workbook, and as it is written; null where the workbook lacks it. */
export type LinesOf = (sheet: string) => { readonly found: readonly Line[]; readonly expected: readonly Line[] } | null;

/** How to read the lists of a workbook. */
export interface ListOptions {
  /** Whether entries and limits are those with which the workbook was written. */
  readonly asWritten: boolean;
  readonly tally: VerifyTally;
}

const GROUPS_BY_HEADING = new Map(Object.entries(RATE_HEADINGS).map(([group, heading]) => [heading, group as FailRateGroup]));

/**
 * A summary with its units, periods, groups and places in the order in which the sheets of the workbook list them, for
 * they may have been sorted. What is listed and is not known, or is known and not listed, is told.
 */
export function summaryAsListed(summary: FleetSummary, linesOf: LinesOf, options: ListOptions): FleetSummary {
  const units = namesBelow(linesOf(UNITS_SHEET), UNITS_TITLE_ROW);
  const periods = namesBelow(linesOf(TREND_SHEET), TREND_TITLE_ROW);
  const rates = linesOf(FAIL_RATES_SHEET);
  return {
    ...summary,
    units: units === null ? summary.units : inListedOrder(summary.units, units, { sheet: UNITS_SHEET, what: 'unit', nameOf: ({ unit }) => unit }, options.tally),
    trend: options.asWritten || periods === null || summary.trend.length === 0 ? summary.trend : inListedOrder(summary.trend, periods, { sheet: TREND_SHEET, what: 'period', nameOf: ({ period }) => period }, options.tally),
    ...(rates && ratesAsListed(summary, rates.found, options)),
  };
}

interface Listed {
  readonly name: string;
  readonly cell: string;
}

interface ListKind<Item> {
  readonly sheet: string;
  readonly what: string;
  readonly nameOf: (item: Item) => string;
}

function namesBelow(sheet: ReturnType<LinesOf>, titleRow: number): Listed[] | null {
  const moved = sheet && titlesMovedBy(sheet.expected, sheet.found, titleRow);
  if (!sheet || moved === null) return null;
  return sheet.found.flatMap((line) => (line.number > titleRow + moved ? listed(line) : []));
}

function listed({ number, values }: Line): Listed[] {
  const name = nameIn(values[0] ?? null);
  return name === null ? [] : [{ name, cell: `A${number}` }];
}

/** A name that a spreadsheet program took for a number is still that name. */
function nameIn(content: CellContent): string | null {
  return content === null || content === '' ? null : showContent(content).trim();
}

function keyOf(name: string): string {
  return name.trim().toLowerCase();
}

function inListedOrder<Item>(items: readonly Item[], names: readonly Listed[], { sheet, what, nameOf }: ListKind<Item>, tally: VerifyTally): Item[] {
  const free = new Map(items.map((item) => [keyOf(nameOf(item)), item]));
  const there = names.map((name) => {
    const item = free.get(keyOf(name.name));
    free.delete(keyOf(name.name));
    return { name, item };
  });
  const missing = [...free.values()];
  for (const item of missing) tally.add({ code: 'line_missing', sheet, column: nameOf(item), found: 'no line', expected: `a line for this ${what}` });
  // A name that was typed over leaves the numbers of the former one in its line.
  return there.flatMap(({ name: { name, cell }, item }) => {
    if (item !== undefined) return [item];
    tally.add({ code: 'line_added', sheet, cell, column: name, found: `a line for this ${what}`, expected: `no line: no inspection has this ${what}` });
    return missing.splice(0, 1);
  });
}

function ratesAsListed(summary: FleetSummary, found: readonly Line[], { asWritten, tally }: ListOptions): Pick<FleetSummary, 'fail_rates' | 'priors' | 'fleet'> {
  const tables = new Map<FailRateGroup, { readonly heading: Line; readonly names: readonly Listed[] }>();
  for (const [index, heading] of found.entries()) {
    const group = GROUPS_BY_HEADING.get(String(heading.values[0]));
    if (group === undefined) continue;
    const end = found.findIndex((line, at) => at > index + 1 && (GROUPS_BY_HEADING.has(String(line.values[0])) || nameIn(line.values[0] ?? null) === null));
    tables.set(group, { heading, names: found.slice(index + 2, end < 0 ? undefined : end).flatMap(listed).filter(({ name }) => name !== NO_ROWS_WORDS) });
  }
  const priors: RatePrior[] = [];
  const fail_rates = FAIL_RATE_GROUPS.flatMap((group): GroupFailRate[] => {
    const table = tables.get(group);
    const own = summary.fail_rates.filter((rate) => rate.group === group);
    if (!table) return own;
    const prior = asWritten ? (summary.priors.find((one) => one.group === group) ?? null) : priorIn(table.heading, group);
    if (prior) priors.push(prior);
    return withListedOthers(inListedRates(own, group, table.names, asWritten, tally), prior);
  });
  return { fail_rates, priors, fleet: asWritten ? summary.fleet : { ...summary.fleet, leak_places: placesAsListed(summary, found) } };
}

/** Groups that are listed but have no inspection are told only where the workbook is as it was written: an entry may have been corrected. */
function inListedRates(own: readonly GroupFailRate[], group: FailRateGroup, names: readonly Listed[], asWritten: boolean, tally: VerifyTally): GroupFailRate[] {
  const nameOf = ({ name }: GroupFailRate): string => name;
  if (asWritten) return inListedOrder(own, names, { sheet: FAIL_RATES_SHEET, what: 'group', nameOf }, tally);
  const nothing = { group, tested: 0, failed: 0, recheck: 0, rate: null, low: null, high: null, estimate: null, flag: null };
  // What is not in the limit set has no formula; the line is told as one that does not belong.
  if (group === 'check' || group === 'circuit' || group === 'limit_set') return inListedOrder(own, names, { sheet: FAIL_RATES_SHEET, what: 'group', nameOf }, tally);
  const gone = names.filter(({ name }) => !own.some((rate) => keyOf(rate.name) === keyOf(name))).map(({ name }): GroupFailRate => ({ ...nothing, name }));
  return inListedOrder([...own, ...gone], names, { sheet: FAIL_RATES_SHEET, what: 'group', nameOf }, tally);
}

/** Estimates and flags are told beside the rows of the table. */
function withListedOthers(rates: readonly GroupFailRate[], prior: RatePrior | null): GroupFailRate[] {
  const sum = (count: 'tested' | 'failed'): number => rates.reduce((total, rate) => total + rate[count], 0);
  const target = sum('tested') === 0 ? null : sum('failed') / sum('tested');
  return rates.map((rate) => ({ ...rate, estimate: estimatedRate(prior, rate), flag: groupFlag(rate.group, rate, target) }));
}

function priorIn({ values }: Line, group: FailRateGroup): RatePrior | null {
  const [mean, weight] = PRIOR_COLUMNS.map((column) => values[column] ?? null);
  return typeof mean === 'number' ? { group, mean, weight: typeof weight === 'number' ? weight : null } : null;
}

/** The places that the workbook lists apart, with the failures that they have now; those without one are kept for their line. */
function placesAsListed({ fleet }: FleetSummary, found: readonly Line[]): FleetSummary['fleet']['leak_places'] {
  const title = found.findLastIndex(({ values }) => values[1] === 'Failures');
  const names: string[] = [];
  for (const { values } of found.slice(title + 1)) {
    const name = nameIn(values[APART_FROM] ?? null);
    if (name === null || values.slice(0, RATE_COLUMNS.length).some((value) => GROUPS_BY_HEADING.has(String(value)))) break;
    names.push(name);
  }
  const counted = names.map((name) => ({ reason: name, failed: fleet.leak_places.find(({ reason }) => keyOf(reason) === keyOf(name))?.failed ?? 0 }));
  const all = counted.reduce((total, { failed }) => total + failed, 0);
  let running = 0;
  return counted
    .sort((a, b) => b.failed - a.failed || (a.reason < b.reason ? -1 : 1))
    .map(({ reason, failed }) => ({ reason, failed, share: failed / all, running_share: (running += failed) / all }));
}
