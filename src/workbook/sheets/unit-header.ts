import type { CellValue, Worksheet } from 'exceljs';
import { columnLetters } from '../../util/column-letters.js';
import { styleCell } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import { unitRange, UNITS_TITLE_ROW, type UnitPlaces } from './unit-places.js';

/** Rows in which the first units to pull in are named. */
const PULL_IN_ROWS = [2, 3, 4] as const;
/** Where the days are counted to. */
export const COUNTED_TO_CELL = 'G2';

/** What stands above the table of the sheet Units. */
export interface UnitHeader {
  /** The unit and what to do, for the most urgent three. */
  readonly first: readonly { readonly unit: string; readonly toDo: string }[];
  readonly live: boolean;
  /** Whether there is any unit yet. */
  readonly anyUnit: boolean;
  readonly countedTo: CellValue;
  readonly notes: string;
}

/** The words for a fleet in which nothing is to be done. */
const NOTHING = 'no open failure, no leak shown to reach its limit, nothing overdue';

/** Writes what stands above the table: the units to pull in first, the day to which days are counted, and what the figures are. */
export function writeUnitHeader(sheet: Worksheet, header: UnitHeader, places: UnitPlaces, across: number): void {
  for (let index = 0; index < across; index++) styleCell(sheet.getCell(`${columnLetters(index)}1`), { ...PALETTE.title, bold: true, size: 14 });
  // Column A is printed on every page; what stood over its edge would be cut off there.
  sheet.getCell('A1').value = 'Units';
  sheet.getCell('B1').value = 'Pull in these first';
  sheet.getRow(1).height = 24;
  const units = unitRange(places, 'unit');
  const turns = unitRange(places, 'turn');
  for (const [index, row] of PULL_IN_ROWS.entries()) {
    sheet.getRow(row).height = 20;
    sheet.mergeCells(`B${row}:D${row}`);
    const [unit, words] = [sheet.getCell(`A${row}`), sheet.getCell(`B${row}`)];
    styleCell(unit, { ...PALETTE.caution, bold: true, size: 12, line: true, format: '@' });
    styleCell(words, { ...PALETTE.caution, bold: true, size: 11, line: true });
    const first = header.first[index];
    const none = index === 0 && header.first.length === 0 && header.anyUnit;
    const values = [first?.unit ?? (none ? 'none' : ''), first?.toDo ?? (none ? NOTHING : '')] as const;
    if (!header.live) {
      unit.value = values[0] || null;
      words.value = values[1] || null;
      continue;
    }
    const at = (range: string): string => `INDEX(${range},MATCH(${index + 1},${turns},0))`;
    const otherwise = (text: string): string => (index === 0 ? `IF(SUMPRODUCT(--(${units}<>""))=0,"","${text}")` : '""');
    unit.value = { formula: `IF(COUNT(${turns})<${index + 1},${otherwise('none')},${at(units)})`, result: values[0] };
    words.value = { formula: `IF(COUNT(${turns})<${index + 1},${otherwise(NOTHING)},${at(unitRange(places, 'to_do'))})`, result: values[1] };
  }
  writeNotes(sheet, header);
}

function writeNotes(sheet: Worksheet, { live, countedTo, notes }: UnitHeader): void {
  sheet.mergeCells('E2:F2');
  sheet.getCell('E2').value = 'Days are counted to';
  styleCell(sheet.getCell('E2'), { right: true });
  const cell = sheet.getCell(COUNTED_TO_CELL);
  cell.value = countedTo;
  styleCell(cell, { format: 'yyyy-mm-dd', centre: true, bold: true, line: true, unlocked: true });
  if (live) {
    sheet.mergeCells('H2:L2');
    sheet.getCell('H2').value = 'type another day here, and days open and overdue follow';
    styleCell(sheet.getCell('H2'), { size: 9, ink: PALETTE.header.ink });
  }
  sheet.mergeCells('E3:L4');
  sheet.getCell('E3').value = notes;
  styleCell(sheet.getCell('E3'), { wrap: true, top: true, size: 9, ink: PALETTE.header.ink });
}

/** Writes the headings above groups of columns, in two shades by turns. */
export function writeGroups(sheet: Worksheet, groups: readonly string[], from = 0): void {
  let shade = 0;
  for (const [index, group] of groups.entries()) {
    if (index > 0 && group !== groups[index - 1]) shade += 1;
    const cell = sheet.getCell(`${columnLetters(from + index)}${UNITS_TITLE_ROW - 1}`);
    if (index === 0 || group !== groups[index - 1]) cell.value = group;
    styleCell(cell, { ...(shade % 2 === 0 ? PALETTE.band : PALETTE.bandOther), bold: true });
  }
}
