import type { XlsxBook } from '../formats/read-xlsx.js';
import { parseCellPosition } from '../formats/xlsx-reader/cell-position.js';
import { FACTS_USED } from '../limits/facts-used.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { Source } from '../limits/limit-set.js';
import { cellName } from './defined-names.js';
import { LIMITS_SHEET } from './sheets/limits-sheet.js';
import { foundFormula, isBlankLine, lineOf, verifyLine, type Line } from './verify-line.js';
import { matchLines, pairInOrder, type MatchedLines } from './verify-match.js';
import { placeOf, type BookNames } from './verify-names.js';
import type { ExpectedSheet } from './verify-sheets.js';
import { sameContent, showContent, type VerifyTally } from './verify-tally.js';

/** A number that stands in a cell of the sheet Limits. */
interface NamedNumber {
  readonly name: string;
  readonly value: number;
  readonly fact: boolean;
  readonly unit: string;
  readonly citation: string;
}

/**
 * Compares the sheet Limits with the limit set, and takes the numbers that its cells hold.
 *
 * @param texts whether its words are compared as well
 * @returns the numbers by their names among the names of the row program; null for a cell that holds none
 */
export async function verifyLimits(book: XlsxBook, names: BookNames, plan: LimitPlan, expected: ExpectedSheet, found: readonly Line[] | null, texts: boolean, tally: VerifyTally): Promise<ReadonlyMap<string, number | null>> {
  const numbers = new Map<string, number | null>();
  if (found === null) return numbers;
  const rowOf = new Map<number, number>();
  const cellsWithNames = namedCells(expected);
  const pairs = pairLimitLines(expected.lines, found);
  for (const [line, other] of pairs.pairs) rowOf.set(line.number, other.number);
  if (texts) {
    for (const [line, other] of pairs.pairs) verifyLine(line, other, { sheet: LIMITS_SHEET, tally, constant: 'text_changed', except: cellsWithNames.get(line.number) });
    for (const line of pairs.missing) tally.add({ code: 'line_missing', sheet: LIMITS_SHEET, column: firstText(line), found: 'no such line', expected: shownLine(line) });
    for (const line of pairs.added) tally.add({ code: 'line_added', sheet: LIMITS_SHEET, cell: `A${line.number}`, column: firstText(line), found: shownLine(line), expected: 'no such line' });
  }
  for (const number of namedNumbers(plan)) {
    const written = expected.names.get(cellName(number.name))!;
    const right = written.replace(/[0-9]+$/, (row) => String(rowOf.get(Number(row)) ?? row));
    const reference = names.reference(cellName(number.name));
    if (reference === null || placeOf(reference) !== placeOf(right)) tally.add({ code: 'name_changed', sheet: LIMITS_SHEET, column: cellName(number.name), found: reference ?? 'no such name', expected: right });
    numbers.set(number.name, await verifyNumber(book, number, reference, found, tally));
  }
  return numbers;
}

function namedNumbers({ checks, conditions, interval }: LimitPlan): NamedNumber[] {
  const source = ({ citation, status }: Source): string => `${citation} (${status})`;
  return [
    ...checks.flatMap(({ alternatives }) => alternatives.flatMap(({ check, cells }) => cells.flatMap((cell) => (cell ? [{ ...cell, fact: false, unit: check.unit, citation: source(check.source) }] : [])))),
    ...conditions.flatMap(({ condition, cell }) => (cell ? [{ ...cell, fact: false, unit: '', citation: source(condition.source) }] : [])),
    ...(interval ? [{ ...interval.cell, fact: false, unit: interval.unit, citation: source(interval.source) }] : []),
    ...FACTS_USED.map(({ fact, value, source: from, status }) => ({ name: `fact:${fact}`, value, fact: true, unit: '', citation: `${from} (${status})` })),
  ];
}

async function verifyNumber(book: XlsxBook, number: NamedNumber, reference: string | null, limits: readonly Line[], tally: VerifyTally): Promise<number | null> {
  const place = reference === null ? null : /^'?(.*?)'?!\$?([A-Z]+)\$?([0-9]+)$/i.exec(reference);
  if (!place) return null;
  const [sheet, cell] = [place[1]!.replaceAll("''", "'"), `${place[2]}${place[3]}`];
  const { column, row } = parseCellPosition(cell)!;
  const line = sheet.toLowerCase() === LIMITS_SHEET.toLowerCase() ? limits.find(({ number: at }) => at === row) : await lineAt(book, sheet, row);
  const value = line?.values[column - 1] ?? null;
  const formula = line?.formulas[column - 1] ?? null;
  tally.cellsCompared += 1;
  if (formula !== null || !sameContent(value, number.value)) {
    const shown = formula === null ? showContent(value) : `${foundFormula(formula, row, column - 1)}, which gives ${showContent(value)}`;
    tally.add({ code: number.fact ? 'fact_changed' : 'limit_changed', sheet, cell, column: cellName(number.name), found: shown, expected: `${number.value} ${number.unit}`.trim(), citation: number.citation });
  }
  // A formula takes a blank cell for 0.
  return typeof value === 'number' ? value : value === null ? 0 : null;
}

async function lineAt(book: XlsxBook, sheet: string, row: number): Promise<Line | null> {
  const rows = book.sheets.find(({ name }) => name.toLowerCase() === sheet.toLowerCase())?.stored().rows ?? [];
  for await (const stored of rows) if (stored.number === row) return lineOf(stored);
  return null;
}

/** The columns of each line that hold numbers with names. */
function namedCells({ names }: ExpectedSheet): Map<number, Set<number>> {
  const cells = new Map<number, Set<number>>();
  for (const reference of names.values()) {
    const { column, row } = parseCellPosition(reference.slice(reference.indexOf('!') + 1).replaceAll('$', ''))!;
    cells.set(row, (cells.get(row) ?? new Set()).add(column - 1));
  }
  return cells;
}

/** Lines of equal words belong together, whatever their numbers; a line whose words were changed is known by its neighbours. */
function pairLimitLines(expected: readonly Line[], found: readonly Line[]): MatchedLines {
  const words = ({ values }: Line): string => values.map((value) => (typeof value === 'string' ? value : '')).join('\n').trimEnd();
  const [right, there] = [expected, found].map((lines) => lines.filter((line) => !isBlankLine(line)));
  return pairInOrder(matchLines(right!, there!, words));
}

function firstText(line: Line): string {
  return String(line.values.find((value) => typeof value === 'string' && value !== '') ?? '');
}

function shownLine(line: Line): string {
  return line.values.filter((value) => value !== null && value !== '').map(showContent).join(' | ');
}
