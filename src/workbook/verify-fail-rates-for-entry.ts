import type { FailRateGroup } from '../fleet/group-fail-rate.js';
import { groupFlag } from '../fleet/group-flag.js';
import type { FleetSummary } from '../fleet/summary.js';
import { APART_FROM, MORE_THAN_ROWS, PLACE_ROWS, RATE_COLUMNS, type RateColumnId } from './sheets/fail-rates-places.js';
import { RATE_HEADINGS } from './sheets/fail-rates-tables.js';
import type { ListedColumn } from './appeared-names.js';
import { linesForEntry } from './verify-for-entry.js';
import type { Line } from './verify-line.js';
import type { CellContent } from './verify-tally.js';

/** The names in columns of Readings, in the order of their first mention. */
type NamesOf = (column: ListedColumn) => readonly string[];

const at = (id: RateColumnId): number => RATE_COLUMNS.findIndex((column) => column.id === id);
const GROUP_OF = new Map(Object.entries(RATE_HEADINGS).map(([group, heading]) => [heading, group as FailRateGroup]));

/**
 * The lines of the sheet Fail rates of a workbook for entry. Its tables have rows ready, so that they stand elsewhere
 * than in a workbook of the same inspections that was evaluated, and their names come in the order of typing.
 */
export function failRatesForEntry(empty: readonly Line[], filled: readonly Line[], summary: FleetSummary, namesOf: NamesOf): Line[] {
  const headings = empty.flatMap((line, index) => (GROUP_OF.has(String(line.values[0])) ? [{ index, group: GROUP_OF.get(String(line.values[0]))! }] : []));
  const lines = linesForEntry(empty, filled);
  const firstTable = headings[0]!.index;
  const placesTitle = empty.findLastIndex(({ values }, index) => index < firstTable && values[1] === 'Failures');
  placesForEntry(empty, placesTitle, summary, namesOf('leak_place')).forEach((line, row) => (lines[placesTitle + 1 + row] = line));
  for (let index = placesTitle + 1 + PLACE_ROWS; index < empty.length; index++) lines[index] = empty[index]!;
  const beyondPlaces = summary.fleet.leak_places.some(({ reason }) => !isAmong(namesOf('leak_place').slice(0, PLACE_ROWS), reason));
  if (beyondPlaces) lines[placesTitle + 1 + PLACE_ROWS] = sayingMore(lines[placesTitle + 1 + PLACE_ROWS]!, 0);
  for (const [position, { index, group }] of headings.entries()) {
    const rows = empty.slice(index + 2, headings[position + 1]?.index).filter(({ formulas }) => formulas.some((formula) => formula !== null));
    const names = group === 'period' ? summary.trend.map(({ period }) => period) : group === 'site' || group === 'inspector' ? namesOf(group) : rows.map(({ values }) => String(values[0] ?? ''));
    const known = valuesByName(filled, group);
    const beyondRows = summary.fail_rates.some((rate) => rate.group === group && rate.tested + rate.recheck > 0 && !isAmong(names.slice(0, rows.length), rate.name));
    if (beyondRows && (group === 'site' || group === 'inspector')) lines[index] = sayingMore(lines[index]!, 1);
    const written = rows.map((line, row) => {
      const values = known.get((names[row] ?? '').toLowerCase());
      return values ? { ...line, values: line.values.map((value, column) => (column === 0 || line.formulas[column] ? (column === 0 ? names[row]! : (values[column] ?? null)) : value)) } : line;
    });
    withFlags(group, written).forEach((line, row) => (lines[empty.indexOf(rows[row]!)] = line));
  }
  return lines;
}

function isAmong(names: readonly string[], name: string): boolean {
  return names.some((one) => one.toLowerCase() === name.toLowerCase());
}

function sayingMore(line: Line, column: number): Line {
  return { ...line, values: line.values.with(column, MORE_THAN_ROWS) };
}

function valuesByName(filled: readonly Line[], group: FailRateGroup): Map<string, readonly CellContent[]> {
  const start = filled.findIndex(({ values }) => values[0] === RATE_HEADINGS[group]);
  const end = filled.findIndex(({ values }, index) => index > start && GROUP_OF.has(String(values[0])));
  const named = filled.slice(start + 2, end < 0 ? undefined : end).filter(({ values }) => (values[0] ?? '') !== '');
  return new Map(named.map(({ values }) => [String(values[0]).toLowerCase(), values]));
}

/** Flags are told beside the rows of the table, which may lack a name that was typed. */
function withFlags(group: FailRateGroup, lines: readonly Line[]): Line[] {
  const count = ({ values }: Line, id: 'tested' | 'failed'): number => Number(values[at(id)] ?? 0);
  const sum = (id: 'tested' | 'failed'): number => lines.reduce((total, line) => total + count(line, id), 0);
  const target = sum('tested') === 0 ? null : sum('failed') / sum('tested');
  return lines.map((line) => {
    if (!line.formulas[at('flag')] || (line.values[0] ?? '') === '') return line;
    return { ...line, values: line.values.with(at('flag'), groupFlag(group, { tested: count(line, 'tested'), failed: count(line, 'failed') }, target)) };
  });
}

/** The table of places and what it is sorted from. */
function placesForEntry(empty: readonly Line[], titleIndex: number, { fleet }: FleetSummary, names: readonly string[]): Line[] {
  const items = Array.from({ length: PLACE_ROWS }, (_, index) => {
    const name = names[index] ?? null;
    const failed = name === null ? 0 : (fleet.leak_places.find(({ reason }) => reason.toLowerCase() === name.toLowerCase())?.failed ?? 0);
    return { name, failed, order: failed === 0 ? null : failed - (index + 1) / 1e6 };
  });
  const sorted = items.filter(({ failed }) => failed > 0).sort((a, b) => b.order! - a.order!);
  const all = sorted.reduce((total, { failed }) => total + failed, 0);
  let running = 0;
  return Array.from({ length: PLACE_ROWS }, (_, index) => {
    const line = empty[titleIndex + 1 + index]!;
    const [item, shown] = [items[index]!, sorted[index]];
    running += shown?.failed ?? 0;
    const table: readonly CellContent[] = shown ? [shown.name, shown.failed, shown.failed / all, running / all] : [null, null, null, null];
    const apart: readonly CellContent[] = [item.name, item.failed, item.order];
    return { ...line, values: line.values.map((value, column) => (column < table.length ? table[column]! : column >= APART_FROM && column < APART_FROM + apart.length ? apart[column - APART_FROM]! : value)) };
  });
}
