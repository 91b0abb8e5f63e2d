import { cutCellText } from '../../util/cut-cell-text.js';
import { cellText } from './cell-text.js';
import { columnPlan, type ColumnPlan, type GrowingRows } from './column-plan.js';
import { defect, SHEET_LIMITS, unwritable } from './sheet-limits.js';
import type { SheetCell, SheetRow } from './sheet-rows.js';
import { openTag } from './without-results.js';

/** A value for a cell; null, or an empty text in an entry column, is a blank cell that keeps its style. */
export type FillValue = number | string | boolean | null;

/**
 * Makes the writer of the rows of a growing sheet: row number and values in, the `row` element out.
 *
 * @param template the template's row
 * @param width the number of columns; a value beyond is a defect
 * @param storeResults whether formulas carry their stored result
 * @param heightOf the height of a row in points, where it is known
 */
export function rowWriter(
  template: SheetRow,
  rows: GrowingRows,
  width: number,
  storeResults: boolean,
  heightOf?: (values: readonly FillValue[]) => number | null,
): (row: number, values: readonly FillValue[]) => string {
  const { r: _number, spans: _spans, ...attributes } = template.attributes;
  const rowStyle = `"${openTag('', attributes).slice(1)}>`;
  const cells = new Map<number, SheetCell>(template.cells.map((cell) => [cell.column, cell]));
  const plans: ColumnPlan[] = [];
  for (let column = 0; column < width; column += 1) plans.push(columnPlan(column, cells.get(column), rows));

  return (row, values) => {
    const height = heightOf?.(values) ?? null;
    let xml = `<row r="${row}${height === null ? rowStyle : `" ht="${height}" customHeight="1${rowStyle}`}`;
    for (let column = 0; column < width; column += 1) {
      const { open, style, styled, formula } = plans[column] as ColumnPlan;
      const value = values[column] ?? null;
      if (formula !== undefined && !storeResults) {
        xml += `${open}${row}${style}>${formula(row)}</c>`;
        continue;
      }
      const f = formula === undefined ? '' : formula(row);
      if (typeof value === 'number') {
        if (!Number.isFinite(value)) {
          throw unwritable(rows.sheet, column, row, `${value} is not a number that a cell can hold`, 'leave the cell blank');
        }
        xml += `${open}${row}${style}>${f}<v>${value}</v></c>`;
      } else if (typeof value === 'boolean') {
        xml += `${open}${row}${style} t="b">${f}<v>${value ? 1 : 0}</v></c>`;
      } else if (value !== null && typeof value !== 'string') {
        throw defect(`sheet ${rows.sheet}, row ${row}, column ${column + 1}`, `a cell cannot hold a value of type ${typeof value}`, 'give a number, text, true, false or null');
      } else if (formula !== undefined) {
        xml += `${open}${row}${style} t="str">${f}<v>${cellText(cutCellText(value ?? ''))}</v></c>`;
      } else if (value) {
        xml += `${open}${row}${style} t="inlineStr"><is><t xml:space="preserve">${cellText(cutCellText(value))}</t></is></c>`;
      } else if (styled) {
        xml += `${open}${row}${style}/>`;
      }
    }
    if (values.length > width) refuseBeyond(values, row);
    return `${xml}</row>`;
  };

  function refuseBeyond(values: readonly FillValue[], row: number): void {
    for (let column = width; column < values.length; column += 1) {
      const value = values[column] ?? '';
      if (value === '') continue;
      if (column >= SHEET_LIMITS.columns) {
        throw unwritable(rows.sheet, column, row, `a sheet holds ${SHEET_LIMITS.columns} columns`, 'write fewer columns');
      }
      throw defect(`sheet ${rows.sheet}, row ${row}`, `the row has more values than the ${width} columns of the template and of the first row`, 'lay out every column in the template');
    }
  }
}
