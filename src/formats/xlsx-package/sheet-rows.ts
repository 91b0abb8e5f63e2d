import { SaxesParser } from 'saxes';
import { defect } from './sheet-limits.js';
import { parse } from './split-xml.js';

/** A formula as the sheet's XML holds it. */
export interface SheetFormula {
  readonly text: string;
  /** `t` of the element: `array`, `shared`, or undefined for a plain formula. */
  readonly type: string | undefined;
  readonly ref: string | undefined;
  /** The element as it stands. */
  readonly xml: string;
}

/** A cell of the template. */
export interface SheetCell {
  /** 0-based. */
  readonly column: number;
  readonly attributes: Readonly<Record<string, string>>;
  readonly formula: SheetFormula | undefined;
  readonly xml: string;
}

/** A row of the template. */
export interface SheetRow {
  /** 1-based. */
  readonly number: number;
  readonly attributes: Readonly<Record<string, string>>;
  readonly cells: readonly SheetCell[];
  readonly xml: string;
}

/**
 * Reads the rows of a `sheetData` element.
 *
 * @throws TreadlebookError `defect` when a row or a cell does not say where it is
 */
export function sheetRows(sheetData: string, sheet: string): SheetRow[] {
  const rows: SheetRow[] = [];
  const parser = new SaxesParser();
  const starts: number[] = [];
  const opened: Record<string, string>[] = [];
  let cells: SheetCell[] = [];
  let formula: SheetFormula | undefined;
  let text = '';
  parser.on('opentag', (tag) => {
    starts.push(sheetData.lastIndexOf('<', parser.position - 1));
    opened.push({ ...tag.attributes });
    if (tag.name === 'f') text = '';
  });
  parser.on('text', (piece) => {
    text += piece;
  });
  parser.on('closetag', (tag) => {
    const xml = sheetData.slice(starts.pop(), parser.position);
    const attributes = opened.pop() ?? {};
    if (tag.name === 'f') {
      formula = { text, type: attributes['t'], ref: attributes['ref'], xml };
    } else if (tag.name === 'c') {
      cells.push({ column: columnOf(attributes['r'], sheet), attributes, formula, xml });
      formula = undefined;
    } else if (tag.name === 'row') {
      const number = Number(attributes['r']);
      if (!Number.isInteger(number)) throw defect(`sheet ${sheet}`, 'a row of the template has no number', 'number it');
      rows.push({ number, attributes, cells, xml });
      cells = [];
    }
  });
  parse(parser, sheetData, `sheet ${sheet}`);
  return rows;
}

function columnOf(address: string | undefined, sheet: string): number {
  const letters = /^([A-Z]{1,3})[0-9]+$/.exec(address ?? '')?.[1];
  if (letters === undefined) throw defect(`sheet ${sheet}`, 'a cell of the template has no address', 'give it one');
  let column = 0;
  for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64;
  return column - 1;
}
