import type { CellValue, Workbook } from 'exceljs';
import { cutShare, verdictWords } from '../readings/compare-words.js';
import { alignCell, setUpPrint, styleCell, type CellLook } from './cell-styles.js';
import type { ComparedReadings } from './compare-readings.js';
import { PALETTE } from './palette.js';
import { programVersion } from './program-version.js';
import { writeHeader, writeRow, writeTitle, type TableColumn } from './write-table.js';

const WIDTHS = [32, 28, 28, 13, 16] as const;
/** A hash is written small, so that it takes few lines. */
const HASH_SIZE = 7;
const COLUMNS: readonly TableColumn[] = [
  { title: 'Column', width: WIDTHS[0] },
  { title: 'Cells compared', width: WIDTHS[1], look: { format: '#,##0' } },
  { title: 'Cells that agree', width: WIDTHS[2], look: { format: '#,##0' } },
  { title: 'Differences', width: WIDTHS[3], look: { format: '#,##0' } },
  { title: 'Share that agrees', width: WIDTHS[4], look: { format: '0.00%' } },
];

/**
 * Lays out the sheet Summary: the two sources, the counts, and every column with the worst keyed first. Sums and shares are
 * live formulas.
 *
 * @param notListed differences that the sheet Differences has no room for
 */
export function comparisonSummarySheet(book: Workbook, compared: ComparedReadings, notListed: number): void {
  const { a, b, missing, extra, matched, matched_by } = compared;
  const sheet = book.addWorksheet('Summary');
  for (const [index, width] of WIDTHS.entries()) sheet.getColumn(index + 1).width = width;
  writeTitle(sheet, 'Two keyings of the same paper', `${verdictWords(compared)} Columns are listed with the worst keyed first.`, WIDTHS.length);
  sheet.getRow(2).height = 20;
  let row = 3;
  const line = (label: string, values: readonly CellValue[], look: CellLook = {}): number => {
    const head = sheet.getCell(`A${row}`);
    head.value = label;
    styleCell(head, { ...PALETTE.header, bold: true, line: true, top: true });
    for (const [index, value] of values.entries()) {
      const cell = sheet.getCell(`${'BC'[index]!}${row}`);
      cell.value = value;
      styleCell(cell, { line: true, wrap: true, top: true, format: '#,##0', ...look });
      alignCell(cell, { ...cell.alignment, horizontal: 'left' });
    }
    const longest = Math.max(0, ...values.map((value) => (typeof value === 'string' ? value.length : 0)));
    if (longest > WIDTHS[1]) sheet.getRow(row).height = 3 + 13 * Math.min(6, Math.ceil((longest * (look.size ?? 10)) / 10 / WIDTHS[1]));
    return row++;
  };
  const heads: CellLook = { ...PALETTE.header, bold: true };
  line('', ['A', 'B'], heads);
  line('File', [shorten(a.name), shorten(b.name)]);
  line('Sheet', [a.sheet === '' ? 'none: one table' : a.sheet, b.sheet === '' ? 'none: one table' : b.sheet]);
  if (a.sheets_not_read.length + b.sheets_not_read.length > 0) line('Sheets that were not compared', [a, b].map(({ sheets_not_read }) => shorten(sheets_not_read.join(', ') || 'none')));
  line('SHA-256 of its bytes', [a.sha256, b.sha256], { size: HASH_SIZE });
  line('Rows read below the header', [a.rows_read, b.rows_read]);
  line('  of them blank, or sums of others', [a.rows_blank + a.rows_set_aside, b.rows_blank + b.rows_set_aside]);
  const inspections = line('Inspections', [a.inspections, b.inspections]);
  const both = line('  in both', [matched, { formula: `B${row}`, result: matched }]);
  line('  in this one only', [missing.length, extra.length]);
  line('Do they add up?', ['B', 'C'].map((letter) => ({ formula: `IF(${letter}${inspections}=${letter}${both}+${letter}${both + 1},"yes","NO")`, result: 'yes' })));
  row += 1;
  line('', ['In both'], heads);
  line('Matched by inspection_id', [matched_by.inspection_id]);
  line('Matched by unit and date', [matched_by['unit and date']]);
  line('Matched by unit or date alone', [matched_by['unit or date']]);
  const cells = line('Cells compared', [compared.compared_cells]);
  const agree = line('Cells that agree', [compared.agreeing_cells]);
  line('Differences', [{ formula: `B${cells}-B${agree}`, result: compared.compared_cells - compared.agreeing_cells }]);
  line('Share that agrees', [{ formula: `IF(B${cells}=0,"",ROUNDDOWN(B${agree}/B${cells},4))`, result: compared.agreement === null ? '' : cutShare(compared.agreement) }], { format: '0.00%' });
  if (notListed > 0) line('Differences without a line', [`${notListed}: a sheet has no more rows`]);
  row += 1;
  line('Program', [`Treadlebook ${programVersion()}`]);
  row += 1;
  writeHeader(sheet, row, COLUMNS);
  for (const one of compared.columns) {
    row += 1;
    const share: CellValue = { formula: `ROUNDDOWN(C${row}/B${row},4)`, result: cutShare(one.agreement) };
    writeRow(sheet, row, COLUMNS, [shorten(one.column), one.compared_cells, one.agreeing_cells, { formula: `B${row}-C${row}`, result: one.differences }, share]);
    if (one.column.length > WIDTHS[0]) sheet.getRow(row).height = 3 + 13 * Math.min(6, Math.ceil(one.column.length / WIDTHS[0]));
    if (one.differences > 0) styleCell(sheet.getCell(`D${row}`), { ...PALETTE.recheck, bold: true, line: true, top: true, format: '#,##0' });
  }
  sheet.views = [{ state: 'frozen', ySplit: 2 }];
  setUpPrint(sheet, { portrait: true, titleRows: '1:2' });
}

function shorten(text: string): string {
  return text.length <= 120 ? text : `${text.slice(0, 119)}…`;
}
