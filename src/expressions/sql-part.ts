import type { SqlDialect } from './sql-dialect.js';

/** A piece of SQL. It is closed in itself, by brackets, by CASE … END or as a call, so that it can stand anywhere. */
export interface SqlPart {
  readonly text: string;
  /** Whether it can be NULL. */
  readonly mayBeBlank: boolean;
  /** True for a column or a constant, which may be mentioned as often as one likes. */
  readonly isPlain: boolean;
  /** The columns that it mentions, as they are quoted. */
  readonly columns: ReadonlySet<string>;
  /** Its value, where it is a number that is known. */
  readonly number?: number;
}

/** What an operator may ask for while it writes its SQL. */
export interface SqlContext {
  readonly dialect: SqlDialect;
  /** The piece as a column of a lower level, so that it is computed once however often it is mentioned. A column or constant stays as it is. */
  readonly once: (part: SqlPart) => SqlPart;
}

const NO_COLUMNS: ReadonlySet<string> = new Set();

/** Writes SQL around pieces: `` sql`sqrt(${x})` ``. It can be NULL where any of them can. */
export function sql(texts: TemplateStringsArray, ...parts: readonly (SqlPart | string | number)[]): SqlPart {
  const pieces = parts.filter((part): part is SqlPart => typeof part === 'object');
  return {
    text: texts.map((text, index) => text + (index < parts.length ? textOf(parts[index]!) : '')).join(''),
    mayBeBlank: pieces.some(({ mayBeBlank }) => mayBeBlank),
    isPlain: false,
    columns: new Set(pieces.flatMap(({ columns }) => [...columns])),
  };
}

function textOf(part: SqlPart | string | number): string {
  return typeof part === 'object' ? part.text : String(part);
}

/** Pieces with the same text between them. */
export function sqlJoin(parts: readonly SqlPart[], between: string): SqlPart {
  return {
    text: parts.map(({ text }) => text).join(between),
    mayBeBlank: parts.some(({ mayBeBlank }) => mayBeBlank),
    isPlain: false,
    columns: new Set(parts.flatMap(({ columns }) => [...columns])),
  };
}

/** The same piece, which can be NULL although its pieces are not, or the other way round. */
export function withBlank(part: SqlPart, mayBeBlank: boolean): SqlPart {
  return { ...part, mayBeBlank };
}

/** A column, by its quoted name. */
export function sqlColumn(quoted: string, mayBeBlank = true): SqlPart {
  return { text: quoted, mayBeBlank, isPlain: true, columns: new Set([quoted]) };
}

/** A constant. */
export function sqlConstant(value: number | string | boolean, dialect: SqlDialect): SqlPart {
  const text = typeof value === 'number' ? dialect.number(value) : typeof value === 'string' ? dialect.quote(value) : value ? 'TRUE' : 'FALSE';
  return { text, mayBeBlank: false, isPlain: true, columns: NO_COLUMNS, ...(typeof value === 'number' ? { number: value } : {}) };
}
