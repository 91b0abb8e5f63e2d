import { openXlsx } from '../../src/formats/read-xlsx.js';
import type { Finding } from '../../src/workbook/verify-finding.js';
import { lineOf, type Line } from '../../src/workbook/verify-line.js';
import { BookNames } from '../../src/workbook/verify-names.js';
import { ProvenanceLines } from '../../src/workbook/verify-provenance.js';
import { verifyStrokes, type StrokesTask } from '../../src/workbook/verify-strokes.js';
import { VerifyTally } from '../../src/workbook/verify-tally.js';

/** What is found on the sheet Strokes of a workbook, and how much was compared. */
export async function strokesFindings(workbook: Uint8Array): Promise<{ readonly findings: readonly Finding[]; readonly formulas: number; readonly cells: number }> {
  const book = await openXlsx(workbook);
  const sheetOf = (name: string) => book.sheets.find((sheet) => sheet.name === name)!;
  const lines: Line[] = [];
  for await (const row of sheetOf('Provenance').stored().rows) lines.push(lineOf(row));
  const tally = new VerifyTally();
  // The sheet is made of its own entries; nothing of the rest of the workbook is asked for.
  await verifyStrokes({ sheet: sheetOf('Strokes'), names: new BookNames(book), provenance: new ProvenanceLines(lines), context: {} as StrokesTask['context'], tally });
  return { findings: tally.result(), formulas: tally.formulasCompared, cells: tally.cellsCompared };
}
