import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TestContext } from 'vitest';
import { runOpenpyxl, withFolder } from '../formats/outside-program.js';

/** What openpyxl finds in a sheet. */
export interface DumpedSheet {
  /** Formulas by cell. */
  readonly formulas: Readonly<Record<string, string>>;
  /** Texts of cells without a formula, by cell. */
  readonly texts: Readonly<Record<string, string>>;
  /** Formulas of validations and of conditional formats. */
  readonly rules: readonly string[];
  readonly hyperlinks: number;
}

/** What openpyxl finds in a workbook. */
export interface DumpedBook {
  readonly sheets: Readonly<Record<string, DumpedSheet>>;
  readonly names: Readonly<Record<string, string>>;
  readonly externalLinks: number;
}

const SCRIPT = `
import json, sys, warnings, openpyxl
warnings.simplefilter('error')
dumped = []
for path in sys.argv[1:]:
    book = openpyxl.load_workbook(path)
    sheets = {}
    for sheet in book:
        formulas, texts, links = {}, {}, 0
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == 'f':
                    formulas[cell.coordinate] = getattr(cell.value, 'text', cell.value)
                elif cell.data_type == 's' and cell.value is not None:
                    texts[cell.coordinate] = cell.value
                links += cell.hyperlink is not None
        rules = [f for v in sheet.data_validations.dataValidation for f in (v.formula1, v.formula2) if f]
        for ranges in sheet.conditional_formatting:
            for rule in ranges.rules:
                rules += rule.formula
        sheets[sheet.title] = dict(formulas=formulas, texts=texts, rules=rules, hyperlinks=links)
    # A list in version 3.0, a dictionary from 3.1 on.
    defined = getattr(book.defined_names, 'definedName', None)
    names = {name.name: name.attr_text for name in (book.defined_names.values() if defined is None else defined) if name.localSheetId is None}
    dumped.append(dict(sheets=sheets, names=names, externalLinks=len(book._external_links)))
print(json.dumps(dumped))
`;

/** Opens workbooks in openpyxl, for which a warning is an error, and gives what it finds in each. */
export function dumpByOpenpyxl(context: TestContext, books: ReadonlyMap<string, Uint8Array>): Map<string, DumpedBook> {
  return withFolder((folder) => {
    const paths = [...books].map(([, bytes], index) => {
      const path = join(folder, `${index}.xlsx`);
      writeFileSync(path, bytes);
      return path;
    });
    const dumped = JSON.parse(runOpenpyxl(context, SCRIPT, ...paths)) as DumpedBook[];
    return new Map([...books.keys()].map((name, index) => [name, dumped[index]!]));
  });
}
