import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TestContext } from 'vitest';
import type { LimitsGiven } from '../../src/limits/limit-set-of.js';
import { blankWorkbook } from '../../src/workbook/write-workbook.js';
import { runOpenpyxl, withFolder } from '../formats/outside-program.js';
import { savedByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';

/** What is typed into the cells of a row, by column name. A blank text is not typed. */
export type TypedCells = Readonly<Record<string, string | number>>;

/** The first row of Readings into which a row is typed. */
export const FIRST_TYPED_ROW = 4;

/** Types rows into the cells below the names, as a person does: numbers as numbers, dates as dates, the rest as text. */
const TYPE_ROWS = `
import sys, json, re, datetime, openpyxl, warnings
warnings.simplefilter('error')
book = openpyxl.load_workbook(sys.argv[1])
sheet = book['Readings']
at = {cell.value: cell.column for cell in sheet[3]}
with open(sys.argv[3]) as rows:
    typed = json.load(rows)
for row, cells in typed:
    for name, value in cells.items():
        if value == '':
            continue
        cell = sheet.cell(row, at[name])
        if name in ('inspected_on', 'repaired_on') and re.match(r'\\d{4}-\\d\\d-\\d\\d$', value):
            cell.value = datetime.datetime.strptime(value, '%Y-%m-%d')
            continue
        cell.value = value
        if isinstance(value, str):
            cell.data_type = 's'
book.save(sys.argv[2])
`;

/**
 * A blank workbook into which rows were typed, as openpyxl saved it: nothing is computed yet.
 *
 * @param typed what is typed, by row of the sheet
 */
export async function typeIntoBlank(context: TestContext, limits: LimitsGiven, typed: ReadonlyMap<number, TypedCells>, rows: number): Promise<Uint8Array> {
  const blank = await bytesOf(blankWorkbook({ limits, rows }));
  return withFolder((folder) => {
    const [from, to, json] = [join(folder, 'blank.xlsx'), join(folder, 'typed.xlsx'), join(folder, 'rows.json')];
    writeFileSync(from, blank);
    writeFileSync(json, JSON.stringify([...typed]));
    runOpenpyxl(context, TYPE_ROWS, from, to, json);
    return new Uint8Array(readFileSync(to));
  });
}

/** What is typed one below the other, and the limits of the workbook. */
export interface TypedTable {
  readonly limits: LimitsGiven;
  readonly rows: readonly TypedCells[];
}

/** A blank workbook into which rows were typed one below the other, as LibreOffice saved it after computing. */
export async function computedAfterTyping(context: TestContext, limits: LimitsGiven, rows: readonly TypedCells[]): Promise<Uint8Array> {
  return (await computedAllAfterTyping(context, { typed: { limits, rows } })).typed;
}

/** The same of several tables, each typed into a workbook of its own. LibreOffice starts once for all of them. */
export async function computedAllAfterTyping<Name extends string>(context: TestContext, tables: Readonly<Record<Name, TypedTable>>): Promise<Record<Name, Uint8Array>> {
  const names = Object.keys(tables) as Name[];
  const typed: Uint8Array[] = [];
  for (const name of names) {
    const { limits, rows } = tables[name];
    typed.push(await typeIntoBlank(context, limits, new Map(rows.map((cells, index) => [FIRST_TYPED_ROW + index, cells])), rows.length + 5));
  }
  const computed = await savedByLibreOffice(typed);
  return Object.fromEntries(names.map((name, index) => [name, computed[index]!])) as Record<Name, Uint8Array>;
}
