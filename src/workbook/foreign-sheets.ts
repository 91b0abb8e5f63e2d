import { openXlsx } from '../formats/read-xlsx.js';
import { EVERY_PART, sheetPurposes } from './sheet-purposes.js';

/** Readings that go on where one sheet is full. */
const MORE_READINGS = /^readings \d+$/;

/**
 * The names of the sheets of a workbook that are not the program's: what is lost when the workbook is written anew.
 *
 * @throws TreadlebookError `input_unreadable` for what is no workbook
 */
export async function foreignSheets(bytes: Uint8Array, name: string): Promise<string[]> {
  const ours = new Set([...sheetPurposes(EVERY_PART).keys()].map((sheet) => sheet.toLowerCase()));
  const { sheets } = await openXlsx(bytes, { name });
  return sheets.map((sheet) => sheet.name).filter((sheet) => !ours.has(sheet.toLowerCase()) && !MORE_READINGS.test(sheet.toLowerCase()));
}
