import { plainValue, type CellOrigin, type RawCell, type RawRow } from '../util/raw-table.js';
import { cleanCellText } from './clean-cell-text.js';
import type { Dictionary } from './dictionary.js';
import { foldHeader, type Header } from './find-header.js';
import { fieldOfMeanings, headerMeaning, testsOfHeaders } from './header-words.js';
import { parsePressureUnit } from './pressure-units.js';

/** A column that names a test and a point but no circuit: both needles may stand in it, as `115/112`. */
export interface NeedlePair {
  /** 0-based position of the column. */
  readonly column: number;
  readonly header: string;
  readonly primary: string;
  readonly secondary: string;
}

/** The columns of a header in which both needles may stand, and whose fields no other column holds; none in a table that the program wrote. */
export function needlePairs(header: Header, dictionary: Dictionary): NeedlePair[] {
  if (header.columns.some(({ role }) => role === 'computed')) return [];
  const taken = new Set(header.columns.flatMap((column) => (column.role === 'field' ? [dictionary.fields[column.position]!.name] : [])));
  let test: string | null = null;
  return header.columns.flatMap((column, index): NeedlePair[] => {
    const { meanings } = headerMeaning(foldHeader(column.header));
    test = testsOfHeaders().find((name) => meanings.has(name)) ?? test;
    if (column.role !== 'extra' || test === null) return [];
    const [primary, secondary] = ['primary', 'secondary'].map((circuit) => fieldOfMeanings([...meanings, test!, circuit]));
    if (!primary || !secondary || taken.has(primary) || taken.has(secondary)) return [];
    taken.add(primary).add(secondary);
    return [{ column: index, header: column.header, primary, secondary }];
  });
}

/** A row with each such column made into two. A single number is that of the primary circuit. */
export function splitNeedlePairs(row: RawRow, pairs: readonly NeedlePair[], headerRow: number): RawRow {
  if (row.number < headerRow) return row;
  const cells: RawCell[] = [];
  const origins: (CellOrigin | null)[] = [];
  for (const [index, cell] of row.cells.entries()) {
    const pair = pairs.find(({ column }) => column === index);
    const split = pair === undefined ? [cell] : row.number === headerRow ? [pair.primary, pair.secondary] : splitNeedles(cell);
    for (const part of split) {
      cells.push(part);
      origins.push({ row: row.number, column: index });
    }
  }
  const unstored = row.unstored?.map((index) => index + pairs.filter(({ column }) => column < index).length);
  return { number: row.number, cells, origins, ...(unstored ? { unstored } : {}) };
}

/** The two needles of a cell such as `115/112` or `115 & 112 psi`. */
function splitNeedles(cell: RawCell): [RawCell, RawCell] {
  const value = plainValue(cell);
  if (typeof value !== 'string') return [cell, null];
  const match = /^([\d.,]+)\s*(\p{L}*)\s*[/&+]\s*([\d.,]+)\s*(\p{L}*)$/u.exec(cleanCellText(value));
  if (!match) return [cell, null];
  const [, first, firstUnit, second, secondUnit] = match as unknown as [string, string, string, string, string];
  if ([firstUnit, secondUnit].some((word) => word !== '' && parsePressureUnit(word) === null)) return [cell, null];
  const unit = secondUnit || firstUnit;
  return [`${first} ${firstUnit || unit}`.trim(), `${second} ${unit}`.trim()];
}
