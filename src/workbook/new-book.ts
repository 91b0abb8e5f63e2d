import type { Workbook } from 'exceljs';
import { ExcelWorkbook } from './excel-workbook.js';

/** An empty workbook of ours: its dates are fixed, so that the same content gives the same bytes, and it is computed when opened. */
export function newBook(): Workbook {
  const book = new ExcelWorkbook();
  const epoch = new Date(Date.UTC(1980, 0, 1));
  book.creator = 'Treadlebook';
  book.lastModifiedBy = 'Treadlebook';
  book.created = epoch;
  book.modified = epoch;
  book.calcProperties.fullCalcOnLoad = true;
  return book;
}
