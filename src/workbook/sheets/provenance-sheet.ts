import type { CellValue } from 'exceljs';
import { describeColumns } from '../../readings/column-map.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import { programVersion } from '../program-version.js';
import { safeText } from '../safe-text.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeTitle } from '../write-table.js';

/** The sheet's name. */
export const PROVENANCE_SHEET = 'Provenance';

/** Lays out the sheet Provenance: what the workbook was made from, and counts that add up. */
export function provenanceSheet({ book, plan, layout, fleet, live }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(PROVENANCE_SHEET);
  sheet.getColumn(1).width = 44;
  sheet.getColumn(2).width = 90;
  writeTitle(sheet, 'Provenance', 'What this workbook was made from. The last line of each block checks the one above it.', 2);
  let row = 3;
  const pair = (label: string, value: CellValue): void => {
    row += 1;
    const [a, b] = [sheet.getCell(`A${row}`), sheet.getCell(`B${row}`)];
    a.value = label;
    b.value = typeof value === 'string' ? safeText(value) : value;
    styleCell(a, { ...PALETTE.header, bold: true, line: true, top: true });
    styleCell(b, { line: true, wrap: true, top: true });
    b.alignment = { ...b.alignment, horizontal: 'left' };
    if (typeof value === 'string' && value.length > 88) sheet.getRow(row).height = 4 + 15 * Math.ceil(value.length / 84);
  };
  const gap = (): void => void (row += 1);
  pair('Program', `Treadlebook ${programVersion()}`);
  pair('Limit set', `${plan.set.id}: ${plan.set.title}`);
  pair('Limit set, SHA-256 of its canonical JSON', plan.sha256);
  gap();
  if (fleet) {
    const { source } = fleet;
    pair('Input', source.name);
    pair('Input, sheet', source.sheet === '' ? 'none: the file is one table' : source.sheet);
    pair('Input, SHA-256 of its bytes', source.sha256);
    gap();
    pair('Rows read below the header', source.rows_read);
    pair('of them blank', source.rows_blank);
    pair('of them set aside (totals)', source.rows_set_aside);
    pair('Inspections', source.inspections);
    pair('Rows on the sheet Readings', { formula: `SUMPRODUCT(--(computed_row_filled="yes"))`, result: source.inspections });
    pair('Do the rows add up?', { formula: `IF(AND(B${row - 4}=B${row - 3}+B${row - 2}+B${row - 1},B${row - 1}=B${row}),"yes","NO: rows were added or deleted since")`, result: source.rows_read === source.rows_blank + source.rows_set_aside + source.inspections ? 'yes' : 'NO: rows were added or deleted since' });
    gap();
    pair('Cells not taken as they stood', fleet.problems.length);
    pair('Lines on the sheet Problems', { formula: `COUNTA(Problems!$G$4:$G$${3 + Math.max(1, fleet.problems.length)})`, result: fleet.problems.length });
    pair('Do they add up?', { formula: `IF(B${row - 1}=B${row},"yes","NO: lines were added or deleted since")`, result: 'yes' });
    gap();
  } else {
    pair('Input', 'none: a blank workbook for entry');
    pair('Rows ready for entry', layout.rowCount);
    gap();
  }
  pair('Units and Fail rates', live ? 'live formulas over Readings' : 'values computed when this workbook was written: there are too many inspections for live formulas');
  pair('Columns not of the program', layout.columns.flatMap((column) => (column.part === 'extra' ? [column.header || '(no header)'] : [])).join(', ') || 'none');
  if (fleet) {
    gap();
    pair('Columns of the input', 'what each was taken as, and how that was told');
    for (const { column, header, field, unit, how } of describeColumns(fleet.columns, plan.dictionary)) {
      pair(safeText(`${column}: ${header || '(no header)'}`), field === null ? how : `${field}${unit ? ` in ${unit}` : ''} (by ${how})`);
    }
  }
  setUpPrint(sheet);
  return {};
}
