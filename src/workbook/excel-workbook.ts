import { createRequire } from 'node:module';
import type { Workbook } from 'exceljs';

/**
 * The workbook of exceljs, taken from its own file: the whole package would also load the libraries of its streaming reader and
 * writer, aged ones among them, which the program never uses and which double the time it takes to start.
 *
 * @example new ExcelWorkbook().addWorksheet('Units')
 */
export const ExcelWorkbook = createRequire(import.meta.url)('exceljs/lib/doc/workbook.js') as new () => Workbook;
