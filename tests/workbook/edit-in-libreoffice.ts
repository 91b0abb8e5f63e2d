import { execFile, spawn } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import type { TestContext } from 'vitest';
import { requireOutside } from '../support/recalculate.js';

const run = promisify(execFile);

/** What every edit may use: `book` (a spreadsheet document), `cell(sheet, 'A1')`, and `rows(sheet)` and `columns(sheet)`. */
const HEAD = `
import sys, time, uno
from com.sun.star.beans import PropertyValue
from com.sun.star.table import TableSortField, CellRangeAddress
folder, pipe = sys.argv[1], sys.argv[2]
def prop(name, value):
    p = PropertyValue(); p.Name = name; p.Value = value; return p
resolver = uno.getComponentContext().ServiceManager.createInstance('com.sun.star.bridge.UnoUrlResolver')
for attempt in range(240):
    try:
        context = resolver.resolve('uno:pipe,name=' + pipe + ';urp;StarOffice.ComponentContext'); break
    except Exception:
        time.sleep(0.25)
desktop = context.ServiceManager.createInstanceWithContext('com.sun.star.frame.Desktop', context)
def open_book(name):
    global book
    book = desktop.loadComponentFromURL('file://' + folder + '/' + name, '_blank', 0, (prop('Hidden', True),))
    for sheet in book.Sheets:
        if sheet.isProtected(): sheet.unprotect('')
def cell(sheet, at): return book.Sheets.getByName(sheet).getCellRangeByName(at)
def rows(sheet): return book.Sheets.getByName(sheet).Rows
def columns(sheet): return book.Sheets.getByName(sheet).Columns
def sort(sheet, area, field, ascending=True):
    key = TableSortField(); key.Field = field; key.IsAscending = ascending
    cell(sheet, area).sort((prop('SortFields', uno.Any('[]com.sun.star.table.TableSortField', (key,))), prop('ContainsHeader', False)))
def save_book(name):
    book.calculateAll()
    book.storeToURL('file://' + folder + '/' + name, (prop('FilterName', 'Calc MS Excel 2007 XML'),))
    book.close(True)
`;

/** A change of a workbook: the workbook, and lines of Python that use what {@link HEAD} has. */
export interface Edit {
  readonly workbook: Uint8Array;
  readonly lines: string;
}

/**
 * Has LibreOffice open a workbook, change it as a person would, recalculate and save it: one saved workbook for each edit,
 * all made of the same original.
 *
 * @param edits by name: lines of Python that use what {@link HEAD} has
 * @param resaved whether LibreOffice opens and saves the original once before, so that the edits are made of what it saved
 */
export function editInLibreOffice<Name extends string>(workbook: Uint8Array, edits: Readonly<Record<Name, string>>, { resaved = false } = {}): Promise<Record<Name, Uint8Array>> {
  const names = Object.keys(edits) as Name[];
  return editAll(Object.fromEntries(names.map((name) => [name, { workbook, lines: edits[name] }])) as Record<Name, Edit>, resaved);
}

/** The same of several workbooks: LibreOffice starts once for all of them. */
export function editEachInLibreOffice<Name extends string>(edits: Readonly<Record<Name, Edit>>): Promise<Record<Name, Uint8Array>> {
  return editAll(edits, false);
}

async function editAll<Name extends string>(edits: Readonly<Record<Name, Edit>>, resaved: boolean): Promise<Record<Name, Uint8Array>> {
  // With a new profile LibreOffice may start itself anew, and whoever has reached it by then is cut off.
  for (let attempt = 1; ; attempt++) {
    try {
      return await editOnce(edits, resaved);
    } catch (error) {
      if (attempt === 3) throw error;
    }
  }
}

async function editOnce<Name extends string>(edits: Readonly<Record<Name, Edit>>, resaved: boolean): Promise<Record<Name, Uint8Array>> {
  const folder = await mkdtemp(join(tmpdir(), 'treadlebook-'));
  const pipe = `treadlebook${process.pid}${Math.random().toString(36).slice(2)}`;
  const office = spawn('soffice', ['--headless', '--norestore', `-env:UserInstallation=${pathToFileURL(join(folder, 'profile')).href}`, `--accept=pipe,name=${pipe};urp;`], { stdio: 'ignore' });
  const gone = new Promise((resolve) => office.once('exit', resolve));
  try {
    const names = Object.keys(edits) as Name[];
    const originals = [...new Set(names.map((name) => edits[name].workbook))];
    for (const [index, workbook] of originals.entries()) await writeFile(join(folder, `original-${index}.xlsx`), workbook);
    const before = resaved ? originals.flatMap((_, index) => [`open_book('original-${index}.xlsx')`, `save_book('resaved-${index}.xlsx')`]) : [];
    const changes = names.flatMap((name, index) => [`open_book('${resaved ? 'resaved' : 'original'}-${originals.indexOf(edits[name].workbook)}.xlsx')`, edits[name].lines, `save_book('${index}.xlsx')`]);
    await run('/usr/bin/python3', ['-c', [HEAD, ...before, ...changes, 'desktop.terminate()'].join('\n'), folder, pipe], { timeout: 300_000 });
    const saved = await Promise.all(names.map(async (name, index) => [name, new Uint8Array(await readFile(join(folder, `${index}.xlsx`)))] as const));
    return Object.fromEntries(saved) as Record<Name, Uint8Array>;
  } finally {
    office.kill();
    await gone;
    await rm(folder, { recursive: true, force: true });
  }
}

/** Asks for LibreOffice and a Python that can talk to it. Where one is missing the test is skipped with the reason, and fails where REQUIRE_OUTSIDE=1. */
export async function requireEditing(context: TestContext): Promise<void> {
  requireOutside(context, 'soffice');
  if (await run('/usr/bin/python3', ['-c', 'import uno']).then(() => true, () => false)) return;
  if (process.env['REQUIRE_OUTSIDE'] === '1') throw new Error('Python with uno is required and is not installed');
  context.skip('Python with uno is not installed');
}
