import type { XlsxBook, XlsxSheet } from '../formats/read-xlsx.js';
import { readInspections, type InspectionReader, type ReadOptions } from '../readings/read-inspections.js';
import { joinShapedTables, shapeTable, type ShapedTable } from '../readings/shape-table.js';
import { isStrokeTable } from '../strokes/read-strokes.js';
import { nearestName } from '../util/nearest-name.js';
import type { RawTable } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { continuedTable, sheetNamed } from './continued-readings.js';

/** The readings of a workbook, and what else it holds. */
export interface ChosenSheet {
  readonly reader: InspectionReader;
  /** Other sheets, hidden ones too, that hold a table of readings and were not read. */
  readonly otherSheets: readonly string[];
}

/** Reads a table whatever its shape. A map by hand says that it is a plain table. */
export async function readTable(table: RawTable, options: ReadOptions): Promise<InspectionReader> {
  if (options.map) return readInspections(table, options);
  return readShaped(await shapeTable(table, options.dictionary), options);
}

function readShaped({ table, unplaced, notes, extras }: ShapedTable, options: ReadOptions): Promise<InspectionReader> {
  // What was put together has its fields by name already; the words of its other columns must not be read as fields.
  const map = extras.length === 0 ? options.map : new Map(extras.map((header) => [header, null]));
  return readInspections(table, { ...options, map, unplaced, notes });
}

/**
 * Reads the sheet that was asked for, else `Readings`, with the sheets on which its table goes on, else the first in sight that holds readings. Forms that stand on a
 * sheet each are read together.
 *
 * @throws TreadlebookError `input_unreadable` when there is no such sheet; `header_missing`, `input_empty`
 */
export async function chooseSheet(book: XlsxBook, wanted: string | undefined, options: ReadOptions): Promise<ChosenSheet> {
  if (wanted !== undefined) {
    const sheet = sheetNamed(book, wanted);
    if (sheet) return continued(book, sheet, options);
    const names = book.sheets.map((sheet) => sheet.name);
    const near = nearestName(wanted, names);
    throw new TreadlebookError({ code: 'input_unreadable', where: options.name, what: `there is no sheet ${JSON.stringify(wanted)}`, mend: `${near ? `did you mean ${near}? The` : 'the'} sheets are ${names.join(', ')}` });
  }
  const own = sheetNamed(book, 'Readings');
  return own ? continued(book, own, options) : firstInSight(book, options);
}

/** Reads a sheet, and those on which its table goes on. */
async function continued(book: XlsxBook, sheet: XlsxSheet, options: ReadOptions): Promise<ChosenSheet> {
  const { table, apart } = await continuedTable(book, sheet, options);
  return { reader: await readTable(table, options), otherSheets: apart };
}

async function firstInSight(book: XlsxBook, options: ReadOptions): Promise<ChosenSheet> {
  const errors: TreadlebookError[] = [];
  const otherSheets: string[] = [];
  const forms: ShapedTable[] = [];
  let chosen: InspectionReader | null = null;
  let strokesOnly: TreadlebookError | undefined;
  for (const sheet of book.sheets) {
    const hidden = sheet.state !== 'visible';
    if (!options.map && (await isStrokeTable(sheet.table()))) {
      strokesOnly ??= new TreadlebookError({ code: 'input_empty', where: options.name, what: `the sheet ${sheet.name} holds strokes, and no sheet holds readings`, mend: 'add a sheet of readings, or evaluate the readings and name this workbook with --strokes' });
      continue;
    }
    try {
      const shaped = options.map ? { table: sheet.table(), shape: null, unplaced: [], notes: [], extras: [] } : await shapeTable(sheet.table(), options.dictionary);
      if (shaped.shape === 'checklist' && chosen === null && !hidden) {
        forms.push(shaped);
        continue;
      }
      const reader = await readShaped(shaped, options);
      if (hidden || chosen !== null || forms.length > 0) otherSheets.push(sheet.name);
      else chosen = reader;
    } catch (error) {
      if (!(error instanceof TreadlebookError) || (error.code !== 'header_missing' && error.code !== 'input_empty')) throw error;
      if (!hidden) errors.push(error);
    }
  }
  if (chosen) return { reader: chosen, otherSheets };
  if (forms.length > 0) return { reader: await readShaped(forms.length === 1 ? forms[0]! : await joinShapedTables(forms), options), otherSheets };
  const first = errors.find(({ code }) => code === 'header_missing') ?? errors[0];
  throw first ?? strokesOnly ?? new TreadlebookError({ code: 'input_empty', where: options.name, what: 'the workbook has no sheet in sight', mend: 'unhide the sheet with the readings, or name it with --sheet' });
}
