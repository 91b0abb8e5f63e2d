import { quoteText, type FormulaPart } from '../../src/expressions/formula-part.js';
import type { FormulaReference } from '../../src/expressions/to-formula.js';
import type { Value, ValueType } from '../../src/expressions/tree.js';
import { columnLetters } from '../../src/util/column-letters.js';

/** What a cell of the test sheet holds; null is a blank. */
export type CellContent = number | string | null;

/** The names that the test expressions mention, by type. */
export const NAMES: Readonly<Record<ValueType, readonly string[]>> = {
  number: ['a', 'b', 'c', 'd'],
  text: ['s', 't'],
  truth: ['p', 'q'],
};

/** The columns of the test sheet, one for each name. */
export const COLUMNS: readonly { readonly name: string; readonly type: ValueType }[] = (Object.keys(NAMES) as ValueType[]).flatMap((type) => NAMES[type].map((name) => ({ name, type })));

/** The types of the names, as the parser takes them. */
export const NAME_TYPES: ReadonlyMap<string, ValueType> = new Map(COLUMNS.map(({ name, type }) => [name, type]));

export const slotOf = (name: string): number => COLUMNS.findIndex((column) => column.name === name);

/** The address of a name's cell in a row. */
export const cellOf = (name: string, row: number): string => `$${columnLetters(slotOf(name))}${row}`;

/** What a reader makes of a cell: a text is no number, and a truth is yes or no. */
export function slotValue(type: ValueType, content: CellContent): Value {
  if (type === 'number') return typeof content === 'number' ? content : null;
  if (type === 'truth') return content === 'yes' ? true : content === 'no' ? false : null;
  return content === null || content === '' ? null : String(content);
}

/** How formulas of a row name the cells: as the sheet Readings does it. */
export function referenceIn(row: number): FormulaReference {
  return (name): FormulaPart => {
    const cell = cellOf(name, row);
    const blankIf = (test: string): FormulaPart['needs'] => ({ numbers: new Set(), blankTests: new Set([test]) });
    switch (NAME_TYPES.get(name)!) {
      case 'number':
        return { text: cell, needs: { numbers: new Set([cell]), blankTests: new Set() }, mayFail: false };
      case 'truth':
        return { text: `(${cell}=${quoteText('yes')})`, needs: blankIf(`AND(${cell}<>"yes",${cell}<>"no")`), mayFail: false };
      case 'text':
        return { text: cell, needs: blankIf(`${cell}=""`), mayFail: false };
    }
  };
}
