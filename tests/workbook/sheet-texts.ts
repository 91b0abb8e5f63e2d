import { openXlsx } from '../../src/formats/read-xlsx.js';
import { plainValue } from '../../src/util/raw-table.js';

/** Every text on a sheet of a workbook. */
export async function sheetTexts(bytes: Uint8Array, name: string): Promise<string[]> {
  const sheet = (await openXlsx(bytes)).sheets.find((one) => one.name === name);
  const texts: string[] = [];
  for await (const { cells } of sheet?.table().rows ?? []) for (const cell of cells) if (typeof plainValue(cell) === 'string') texts.push(plainValue(cell) as string);
  return texts;
}
