import type { RawRow, RawTable } from '../util/raw-table.js';
import { capsOf, raiseCap } from './input-caps.js';
import type { XlsxCaps } from './input-caps.js';
import { readCellDateFormats } from './xlsx-reader/cell-date-formats.js';
import { describePackage } from './xlsx-reader/describe-package.js';
import { findWorkbook } from './xlsx-reader/find-workbook.js';
import { refuseOtherFormats } from './xlsx-reader/refuse-other-formats.js';
import { readApplication } from './xlsx-reader/read-application.js';
import { OutsideFormulas } from './xlsx-reader/outside-formulas.js';
import { readRelationships } from './xlsx-reader/relationships.js';
import type { Relationship } from './xlsx-reader/relationships.js';
import { readSharedStrings } from './xlsx-reader/shared-strings.js';
import { SheetReader } from './xlsx-reader/sheet-reader.js';
import type { SheetContext } from './xlsx-reader/sheet-context.js';
import type { HiddenColumns, RowWithFormulas, StoredRow } from './xlsx-reader/sheet-reader.js';
import { unreadable } from './xlsx-reader/unreadable.js';
import { readWorkbookPart } from './xlsx-reader/workbook-part.js';
import type { SheetState } from './xlsx-reader/workbook-part.js';
import type { XlsxFinding } from './xlsx-reader/xlsx-finding.js';
import { SheetXmlReader } from './xlsx-reader/sheet-xml-reader.js';
import { ZipParts } from './xlsx-reader/zip-parts.js';

export type { HiddenColumns, RowWithFormulas, StoredRow } from './xlsx-reader/sheet-reader.js';
export type { StoredFormula } from './xlsx-reader/shared-formulas.js';
export type { SheetState } from './xlsx-reader/workbook-part.js';
export type { XlsxFinding } from './xlsx-reader/xlsx-finding.js';
export type { XlsxCaps } from './input-caps.js';

export interface OpenXlsxOptions extends Partial<XlsxCaps> {
  /** The file's name, for errors. */
  readonly name?: string;
  /** Whether each row tells which of its long texts are shared strings. */
  readonly marksShared?: boolean;
}

/** One sheet of a workbook. Nothing of it is read before its rows are walked. */
export interface XlsxSheet {
  readonly name: string;
  readonly state: SheetState;
  /**
   * The sheet as a table, for one walk; ask again for another. A formula gives its stored value, an error value its text (`#DIV/0!`), a number
   * in a date or time format a FormattedNumber, an ISO date cell its text. Blanks inside a row are null, those at its end are left out, and so are
   * rows that the file leaves out.
   */
  table(): RawTable;
  /** The same rows with the formulas, shared ones written out for each cell. For one walk. */
  rowsWithFormulas(): AsyncIterable<RowWithFormulas>;
  /** The same rows with formulas as they are stored, and what does not show. For one walk. */
  stored(): StoredSheet;
}

/** The rows of a sheet as they are stored. */
export interface StoredSheet {
  readonly rows: AsyncIterable<StoredRow>;
  /** Complete once the first row is there. */
  readonly hiddenColumns: readonly HiddenColumns[];
}

/** An open workbook. */
export interface XlsxBook {
  readonly date1904: boolean;
  /** The worksheets in the order of their tabs, hidden ones too; chart sheets are left out. */
  readonly sheets: readonly XlsxSheet[];
  /** By name; a name that holds for one sheet only is written `Sheet!Name`. */
  readonly definedNames: ReadonlyMap<string, string>;
  /** The program that says it wrote the file; null if the file does not say. */
  readonly application: string | null;
  /** Macros, links to the outside, hidden sheets. What formulas reach for is added as sheets are walked. */
  readonly findings: readonly XlsxFinding[];
}

/**
 * Opens a workbook (.xlsx, also .xlsm and the strict kind) that may come from a stranger. Everything is bounded (see `INPUT_CAPS`), nothing is run or
 * fetched, and only the parts that are needed are inflated, piece by piece. Sheets are read as their rows are walked.
 *
 * @throws TreadlebookError `input_empty` or `input_unreadable`, here and from the rows: not a workbook (and what it is instead), damaged, or beyond a cap
 * @example
 * const book = await openXlsx(await readFile('fleet.xlsx'), { name: 'fleet.xlsx' });
 * for (const sheet of book.sheets) for await (const row of sheet.table().rows) console.log(sheet.name, row.number, row.cells);
 */
export async function openXlsx(bytes: Uint8Array, options: OpenXlsxOptions = {}): Promise<XlsxBook> {
  const { name = 'the workbook', marksShared = false, ...changes } = options;
  const caps = capsOf('xlsx', changes);
  if (bytes.length > caps.fileBytes) throw unreadable(name, `the file holds more than ${caps.fileBytes} bytes`, raiseCap('xlsx.fileBytes', caps.fileBytes));
  refuseOtherFormats(bytes, name);
  const parts = await ZipParts.open(bytes, caps, name);
  const { part, packageLinks } = await findWorkbook(parts, caps);
  const workbook = await readWorkbookPart(parts, part, caps);
  const links = await readRelationships(parts, part, caps);
  const byId = new Map(links.map((link) => [link.id, link]));
  const findings = await describePackage(parts, links, workbook, caps);
  const source = new SheetSource(parts, links, { caps, marksShared }, new OutsideFormulas(findings));
  const sheets = workbook.sheets
    .map((sheet) => ({ ...sheet, link: byId.get(sheet.relationship) }))
    .filter((sheet) => sheet.link === undefined || sheet.link.type === 'worksheet')
    .map(({ name: sheet, state, link }): XlsxSheet => ({
      name: sheet,
      state,
      table: (): RawTable => ({ sheet, date1904: workbook.date1904, rows: source.table(sheet, link) }),
      rowsWithFormulas: () => source.rows(sheet, link, 'written out'),
      stored: () => source.stored(sheet, link),
    }));
  return {
    date1904: workbook.date1904,
    sheets,
    definedNames: workbook.definedNames,
    application: await readApplication(parts, packageLinks, caps),
    findings,
  };
}

/** Reads sheets, and before the first of them the strings and styles that all share. */
class SheetSource {
  #shared: Promise<Pick<SheetContext, 'strings' | 'dateFormats'>> | null = null;

  constructor(
    private readonly parts: ZipParts,
    private readonly links: readonly Relationship[],
    private readonly settings: Pick<SheetContext, 'caps' | 'marksShared'>,
    private readonly outside: OutsideFormulas,
  ) {}

  async *table(sheet: string, link: Relationship | undefined): AsyncGenerator<RawRow> {
    for await (const { formulas: _leftOut, ...row } of this.rows(sheet, link, 'left out')) yield row;
  }

  async *rows(sheet: string, link: Relationship | undefined, formulas: 'left out' | 'written out'): AsyncGenerator<RowWithFormulas> {
    for await (const reader of this.#walk(sheet, link, formulas)) yield* reader.rows.splice(0);
  }

  stored(sheet: string, link: Relationship | undefined): StoredSheet {
    const hiddenColumns: HiddenColumns[] = [];
    const walk = this.#walk(sheet, link, 'as stored');
    const rows = async function* (): AsyncGenerator<StoredRow> {
      for await (const reader of walk) {
        hiddenColumns.push(...reader.hiddenColumns.splice(0));
        yield* reader.storedRows.splice(0);
      }
    };
    return { rows: rows(), hiddenColumns };
  }

  /** Gives the reader again and again, with the rows that came since. */
  async *#walk(sheet: string, link: Relationship | undefined, formulas: SheetContext['formulas']): AsyncGenerator<SheetReader> {
    const where = `${this.parts.fileName}, sheet ${sheet}`;
    if (link?.part == null) throw unreadable(where, 'the workbook does not say where the sheet is stored');
    const { strings, dateFormats } = await (this.#shared ??= this.#readShared());
    const onFormula = (text: string, cell: string): void => this.outside.look(text, sheet, cell);
    const context: SheetContext = { ...this.settings, strings, dateFormats, where, formulas, onFormula };
    const reader = new SheetReader(context);
    const xml = new SheetXmlReader(reader, context);
    for await (const chunk of this.parts.read(link.part)) {
      xml.write(chunk);
      yield reader;
    }
    xml.end();
    yield reader;
  }

  async #readShared(): Promise<Pick<SheetContext, 'strings' | 'dateFormats'>> {
    const part = (type: string): string | null => this.links.find((link) => link.type === type)?.part ?? null;
    const strings = part('sharedStrings');
    const styles = part('styles');
    return {
      strings: strings !== null && this.parts.has(strings) ? await readSharedStrings(this.parts, strings, this.settings.caps) : [],
      dateFormats: styles !== null && this.parts.has(styles) ? await readCellDateFormats(this.parts, styles, this.settings.caps) : [],
    };
  }
}
