import type { XlsxFinding } from './xlsx-finding.js';

/** Cheap, and true of every formula that {@link OutsideFormulas} tells of. */
const SUSPECT = /WEBSERVICE|HYPERLINK|IMAGE|RTD|DDE|CALL|REGISTER|EXEC|\|/i;
/** Functions that fetch, start or open something, as a formula calls them. */
const CALL = /(?<![\w.])(?:_xlfn\.|_xlws\.)*(WEBSERVICE|HYPERLINK|IMAGE|RTD|DDE|CALL|REGISTER(?:\.ID)?|EXEC)\s*\(\s*("#)?/gi;
/** `program|'topic'!item`: a value from another program by dynamic data exchange. */
const EXCHANGE = /[\w.]\s*\|\s*(?:'[^']*'|[\w.:\\/]+)\s*!/;
const TEXT = /"(?:[^"]|"")*"/g;

/** Whether a formula is worth a closer look. */
export function mayReachOut(formula: string): boolean {
  return SUSPECT.test(formula);
}

/**
 * What a formula would reach for beyond the workbook: the names of functions, or `DDE`. A link into the workbook itself (`HYPERLINK("#Units!A1")`)
 * is none, and words inside a text are none.
 *
 * @example reachesFor('WEBSERVICE("https://example.org")') // ['WEBSERVICE']
 * @example reachesFor("cmd|'/c calc'!A0") // ['DDE']
 */
export function reachesFor(formula: string): readonly string[] {
  const bare = formula.replace(TEXT, (text) => (text.startsWith('"#') ? '"#"' : '""'));
  const found = new Set<string>();
  for (const [, name, inside] of bare.matchAll(CALL)) if (!(inside && name!.toUpperCase() === 'HYPERLINK')) found.add(name!.toUpperCase());
  if (EXCHANGE.test(bare)) found.add('DDE');
  return [...found];
}

/** Gathers, for a whole workbook, one finding for each sheet and function. */
export class OutsideFormulas {
  readonly #told = new Set<string>();

  /** @param findings to which they are added */
  constructor(private readonly findings: XlsxFinding[]) {}

  look(formula: string, sheet: string, cell: string): void {
    for (const name of reachesFor(formula)) {
      const key = `${name} ${sheet}`;
      if (this.#told.has(key)) continue;
      this.#told.add(key);
      this.findings.push({ kind: 'outside', sheet, cell, text: `The sheet ${sheet} holds a formula with ${name}, first in cell ${cell}; nothing was fetched or started.` });
    }
  }
}
