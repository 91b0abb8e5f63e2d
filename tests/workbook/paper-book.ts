import type { PaperSize } from 'exceljs';
import { assembleXlsx } from '../../src/formats/xlsx-package/assemble-xlsx.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { loadLimitSet } from '../../src/limits/load-limit-set.js';
import { newBook } from '../../src/workbook/new-book.js';
import { layOutReadings } from '../../src/workbook/readings-layout.js';
import { cabChecklistSheet } from '../../src/workbook/sheets/cab-checklist-sheet.js';
import { limitsSheet, LIMITS_SHEET } from '../../src/workbook/sheets/limits-sheet.js';
import { bytesOf } from './bytes-of.js';

/**
 * A workbook whose only sheet in sight is the checklist of a limit set, so that each page of its print is one of the checklist.
 *
 * @param paper 9 is A4, 1 is Letter
 */
export async function paperBook(id: string, paper: 9 | 1 = 9): Promise<Uint8Array> {
  const plan = compileLimitSet(loadLimitSet(id), { optionalColumns: new Set() });
  const context = { book: newBook(), plan, layout: layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount: 1 }), fleet: null, live: true };
  cabChecklistSheet(context);
  const { definedNames } = limitsSheet(context);
  // The library's list of paper sizes leaves out Letter, which is 1.
  context.book.worksheets[0]!.pageSetup.paperSize = paper as PaperSize;
  context.book.getWorksheet(LIMITS_SHEET)!.state = 'hidden';
  return bytesOf(assembleXlsx({ template: new Uint8Array(await context.book.xlsx.writeBuffer()), fills: [], definedNames }));
}

/** How many pages a PDF of LibreOffice has, and how wide they are, in points. */
export function pagesOfPdf(pdf: Uint8Array): { readonly pages: number; readonly widths: string[] } {
  const text = Buffer.from(pdf).toString('latin1');
  const widths = [...text.matchAll(/\/MediaBox\s*\[\s*0 0 (\d+)/g)].map(([, width]) => width!);
  return { pages: [...text.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length, widths: [...new Set(widths)] };
}
