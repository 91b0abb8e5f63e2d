import { assembleXlsx } from '../../src/formats/xlsx-package/assemble-xlsx.js';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { newBook } from '../../src/workbook/new-book.js';
import { layOutReadings } from '../../src/workbook/readings-layout.js';
import type { SheetContext } from '../../src/workbook/sheet-context.js';
import { limitsSheet } from '../../src/workbook/sheets/limits-sheet.js';
import { readingsSheet } from '../../src/workbook/sheets/readings-sheet.js';
import { bytesOf } from '../workbook/bytes-of.js';

/** A workbook of the sheets Readings and Limits alone; without evaluations, one of three blank rows. */
export async function readingsWorkbook(plan: LimitPlan, evaluations: readonly Evaluation[] | null, withoutResults = false): Promise<Uint8Array> {
  const book = newBook();
  const fleet = evaluations && ({ evaluations, problems: [], columns: [], asOf: null, notes: [] } as unknown as SheetContext['fleet']);
  const rowCount = evaluations === null ? 3 : Math.max(1, evaluations.length);
  const context: SheetContext = { book, plan, layout: layOutReadings({ plan, fileColumns: [], overflow: 0, rowCount }), fleet, live: true };
  const parts = [readingsSheet(context), limitsSheet(context)];
  const template = new Uint8Array(await book.xlsx.writeBuffer());
  return bytesOf(assembleXlsx({ template, fills: parts.flatMap(({ fill }) => fill ?? []), charts: [], definedNames: parts.flatMap(({ definedNames }) => definedNames ?? []), withoutResults }));
}
