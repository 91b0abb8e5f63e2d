import { plainValue, type RawCell, type RawRow } from '../util/raw-table.js';
import { remembering } from '../util/remembering.js';
import { cleanCellText } from './clean-cell-text.js';
import type { Dictionary } from './dictionary.js';
import { fieldOfMeanings, headerMeaning, testsOfHeaders } from './header-words.js';
import { parsePressureUnit, type PressureUnit } from './pressure-units.js';
import { AS_FOUND, COMPUTED_PREFIX } from './table-names.js';

/** How a column was recognised, from the surest way to the least. */
export type Recognised = 'map' | 'name' | 'title' | 'spelling' | 'words' | 'misspelt words' | 'the column to its left' | 'assumed';

/** What a column of the file is. */
export type ColumnRole =
  | {
      readonly role: 'field';
      readonly header: string;
      readonly position: number;
      /** The pressure unit that the header names. */
      readonly unit: PressureUnit | null;
      /** The unit of time that the header names. */
      readonly timeUnit: 'min' | 's' | null;
      readonly how: Recognised;
    }
  | { readonly role: 'extra'; readonly header: string }
  | { readonly role: 'as_found'; readonly header: string }
  | { readonly role: 'computed'; readonly header: string };

/** The header row of a table and what its columns are. */
export interface Header {
  /** The row of the header; of two rows the lower one. */
  readonly row: number;
  readonly columns: readonly ColumnRole[];
  /** Positions of columns that repeat a field which an earlier column holds; they are kept as columns that are not ours. */
  readonly repeated: readonly number[];
}

/** Which column holds which field, as a person says: header text to the name of a field, or null for a column that is none. */
export type ColumnMap = ReadonlyMap<string, string | null>;

type FieldRole = Extract<ColumnRole, { role: 'field' }>;
interface Claim {
  readonly position: number;
  readonly how: Recognised;
}

const SURENESS: readonly Recognised[] = ['map', 'name', 'title', 'spelling', 'words', 'misspelt words', 'the column to its left', 'assumed'];

/**
 * Reads a row as a header. A cell that is a field's name, its title or an accepted spelling (whatever its case and
 * punctuation, with or without a unit) is that field; so is one whose words mean it; every other cell heads a column of
 * its own, with the text of the lower row where two rows make the header. No field is given to two columns: the surer one has it, and the other is kept and named.
 */
export function readHeader(row: RawRow, dictionary: Dictionary, map: ColumnMap = new Map(), lower: RawRow = row): Header {
  const shown = (index: number): string => headerText(lower.cells[index] ?? null) || headers[index]!;
  const headers = row.cells.map((cell) => headerText(cell));
  const ours = headers.some((header) => header.startsWith(COMPUTED_PREFIX));
  const claimOf = claimsOf(dictionary, ours);
  const claims = headers.map((header, index) => (isComputed(header, ours) ? null : (mappedClaim([header, shown(index)], dictionary, map) ?? claimOf(header))));
  if (!ours) claimByNeighbour(headers, claims, dictionary);
  const holders = new Map<number, number>();
  for (const how of SURENESS) {
    for (const [index, claim] of claims.entries()) {
      if (claim?.how === how && !holders.has(claim.position)) holders.set(claim.position, index);
    }
  }
  const repeated: number[] = [];
  const lastFound = headers.lastIndexOf(AS_FOUND);
  const columns = headers.map((header, index): ColumnRole => {
    if (header.startsWith(COMPUTED_PREFIX)) return { role: 'computed', header };
    if (header === AS_FOUND && ours && index === lastFound) return { role: 'as_found', header };
    const claim = claims[index];
    if (!claim || claim === NOT_OURS) return { role: 'extra', header: shown(index) };
    if (holders.get(claim.position) === index) return fieldRole(header, claim, dictionary);
    repeated.push(index);
    return { role: 'extra', header: shown(index) };
  });
  return { row: row.number, columns, repeated };
}

function isComputed(header: string, ours: boolean): boolean {
  return header === '' || header.startsWith(COMPUTED_PREFIX) || (ours && header === AS_FOUND);
}

function fieldRole(header: string, claim: Claim, dictionary: Dictionary): FieldRole {
  const { kind } = dictionary.fields[claim.position]!;
  const { pressure, time } = unitsIn(header);
  return { role: 'field', header, position: claim.position, unit: kind === 'pressure' ? pressure : null, timeUnit: kind === 'time' ? time : null, how: claim.how };
}

/** A column that a person said is none of ours. */
const NOT_OURS: Claim = { position: -1, how: 'map' };

function mappedClaim(headers: readonly string[], dictionary: Dictionary, map: ColumnMap): Claim | null {
  for (const header of headers) {
    const mapped = map.get(header);
    if (mapped !== undefined) return mapped === null ? NOT_OURS : { position: dictionary.position.get(mapped)!, how: 'map' };
  }
  return null;
}

/** How many headers are kept with what they mean: the first rows of a table are looked at several times, and headers repeat. */
const MOST_KEPT = 5000;

const meaningOf = remembering(MOST_KEPT, (header) => headerMeaning(foldHeader(withoutUnits(header))));

const claimsOfOthers = new WeakMap<Dictionary, (header: string) => Claim | null>();

/** In a table that the program wrote, each of our columns has the very name of its field; every other is the office's own. */
function claimsOf(dictionary: Dictionary, ours: boolean): (header: string) => Claim | null {
  if (ours) return (header) => (dictionary.position.has(header) ? { position: dictionary.position.get(header)!, how: 'name' } : null);
  let claimOf = claimsOfOthers.get(dictionary);
  if (claimOf === undefined) claimsOfOthers.set(dictionary, (claimOf = remembering(MOST_KEPT, claimIn(dictionary))));
  return claimOf;
}

/** The claim of a header in a table of any other origin: by a spelling of its field, or by what its words mean. */
function claimIn(dictionary: Dictionary): (header: string) => Claim | null {
  const spellings = spellingsOf(dictionary);
  return (header) => {
    const exact = spellings.get(foldHeader(header)) ?? spellings.get(foldHeader(withoutBrackets(header)));
    if (exact) return exact;
    const { meanings, misspelt } = meaningOf(header);
    const position = positionOf(fieldOfMeanings(meanings), dictionary);
    return position === null ? null : { position, how: misspelt ? 'misspelt words' : 'words' };
  };
}

/**
 * Headers such as `P start` name a circuit and a point, but not the test. They belong to the test of the nearest column
 * to the left that names one; without any, the released test is assumed, and said so.
 */
function claimByNeighbour(headers: readonly string[], claims: (Claim | null)[], dictionary: Dictionary): void {
  let test: string | null = null;
  for (const [index, header] of headers.entries()) {
    const claim = claims[index];
    if (claim === NOT_OURS) continue;
    const { meanings } = meaningOf(header);
    const named = claim ? testsOfHeaders().find((name) => dictionary.fields[claim.position]!.name.startsWith(`${name}_`)) : testsOfHeaders().find((name) => meanings.has(name));
    if (named) test = named;
    else if (claim && isReading(dictionary, claim.position)) test = null;
    if (claim || meanings.size === 0) continue;
    const inherited = test === null ? null : positionOf(fieldOfMeanings([...meanings, test]), dictionary);
    if (inherited !== null && !claims.some((other) => other?.position === inherited)) {
      claims[index] = { position: inherited, how: 'the column to its left' };
      continue;
    }
    const assumed = test === null && meanings.size > 1 ? positionOf(fieldOfMeanings([...meanings, testsOfHeaders()[0]!]), dictionary) : null;
    if (assumed !== null && !claims.some((other) => other?.position === assumed)) claims[index] = { position: assumed, how: 'assumed' };
  }
}

function isReading(dictionary: Dictionary, position: number): boolean {
  const { kind } = dictionary.fields[position]!;
  return kind === 'pressure' || kind === 'time';
}

function positionOf(field: string | null, dictionary: Dictionary): number | null {
  return field === null ? null : (dictionary.position.get(field) ?? null);
}

/**
 * How well a row serves as the header: 0 when it names no unit, or nothing but one and that not by the name of the
 * field (a list headed `Truck` is no table of readings); otherwise the count of its fields, with a field called by its
 * very name counting double, and one that was only assumed half.
 */
export function headerScore(header: Header, dictionary: Dictionary): number {
  let score = 0;
  let namesUnit = false;
  for (const column of header.columns) {
    if (column.role !== 'field') continue;
    namesUnit ||= dictionary.fields[column.position]!.name === 'unit';
    score += column.how === 'name' || column.how === 'map' ? 2 : column.how === 'assumed' ? 0.5 : 1;
  }
  return namesUnit && score > 1 ? score : 0;
}

/**
 * Two rows as one header: the words of the upper row hold for the blank cells to their right as well, as in merged
 * cells, and go before those of the lower row.
 */
export function joinHeaderRows(upper: RawRow, lower: RawRow): RawRow {
  let above = '';
  const width = Math.max(upper.cells.length, lower.cells.length);
  const cells = Array.from({ length: width }, (_, index): RawCell => {
    const own = headerText(upper.cells[index] ?? null);
    const below = headerText(lower.cells[index] ?? null);
    if (own !== '') above = own;
    return below === '' ? own : `${above} ${below}`.trim();
  });
  return { number: lower.number, cells };
}

/** A header with a row of units below it as one header, each unit in brackets behind its name. */
export function joinUnitsRow(header: RawRow, units: RawRow): RawRow {
  const width = Math.max(header.cells.length, units.cells.length);
  const cells = Array.from({ length: width }, (_, index): RawCell => {
    const unit = headerText(units.cells[index] ?? null).replace(/^[([]|[)\]]$/g, '');
    return `${headerText(header.cells[index] ?? null)}${unit === '' ? '' : ` (${unit})`}`.trim();
  });
  return { number: units.number, cells };
}

/** True for a row that holds units and nothing else, a unit of pressure or of time among them. */
export function holdsOnlyUnits(row: RawRow): boolean {
  const texts = row.cells.map((cell) => headerText(cell).replace(/^[([]|[)\]]$/g, '')).filter((text) => text !== '');
  const measured = (text: string): boolean => parsePressureUnit(text) !== null || TIME_UNIT.test(text);
  return texts.some(measured) && texts.every((text) => measured(text) || OTHER_UNIT.test(text));
}

/** What else stands in a row of units. */
const OTHER_UNIT = /^(?:-|rpm|1\/min|km|mi|miles|l|litres|liters|°?[cf]|%|[dmy]{1,4}([-/.])[dmy]{1,4}\1[dmy]{1,4}|y\/n|yes\/no)$/i;

function headerText(cell: RawCell): string {
  return cleanCellText(String(plainValue(cell) ?? ''));
}

/** A header without case, spaces and punctuation, so that `Unit No.` and `unit_no` are one. */
export function foldHeader(header: string): string {
  return header
    .toLowerCase()
    .slice(0, 300)
    .replace(/#/g, ' no ')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

function withoutBrackets(header: string): string {
  return header.slice(0, 300).replace(/[([][^()[\]]*[)\]]/g, ' ');
}

/** A header without units in brackets; other words in brackets say something. */
function withoutUnits(header: string): string {
  return header.slice(0, 300).replace(/[([]\s*([^()[\]]*?)\s*[)\]]/g, (_, words: string) => (parsePressureUnit(words) !== null || TIME_UNIT.test(words) || words === 'pressure unit' ? ' ' : ` ${words} `));
}

const TIME_UNIT = /^(mins?|minutes|s|secs?|seconds|min:s|m:ss|mm:ss)\.?$/i;

/** The units that a header names, in brackets or as a word of its own. */
function unitsIn(header: string): { readonly pressure: PressureUnit | null; readonly time: 'min' | 's' | null } {
  let pressure: PressureUnit | null = null;
  let time: 'min' | 's' | null = null;
  const bracketed = [...header.slice(0, 300).matchAll(/[([]\s*([^()[\]]*?)\s*[)\]]/g)].map((match) => match[1]!);
  for (const word of [...bracketed, ...foldHeader(withoutBrackets(header)).split(' ').filter((token) => /^(psi|psig|kpa|bar|mins?|minutes|secs?|seconds)$/.test(token))]) {
    pressure ??= parsePressureUnit(word);
    if (/^(min|mins|minutes)$/i.test(word)) time ??= 'min';
    if (/^(s|sec|secs|seconds)$/i.test(word)) time ??= 's';
  }
  return { pressure, time };
}

function spellingsOf(dictionary: Dictionary): Map<string, Claim> {
  const spellings = new Map<string, Claim>();
  const add = (spelling: string, position: number, how: Recognised): void => {
    const folded = foldHeader(spelling);
    if (!spellings.has(folded)) spellings.set(folded, { position, how });
  };
  for (const [position, field] of dictionary.fields.entries()) add(field.name, position, 'name');
  for (const [position, field] of dictionary.fields.entries()) add(field.title, position, 'title');
  for (const [position, field] of dictionary.fields.entries()) for (const spelling of field.spellings) add(spelling, position, 'spelling');
  return spellings;
}
