import type { SqlDialect } from './sql-dialect.js';
import { sqlColumn, type SqlContext, type SqlPart } from './sql-part.js';

interface Column {
  readonly quoted: string;
  readonly text: string;
  readonly level: number;
}

/**
 * Columns in levels: each stands one level above the highest that it mentions, so that every column is computed once,
 * however many others mention it.
 */
export class SqlLayers implements SqlContext {
  private readonly levels = new Map<string, number>();
  private readonly columns: Column[] = [];
  private readonly known = new Map<string, SqlPart>();
  private steps = 0;

  constructor(readonly dialect: SqlDialect) {}

  once(part: SqlPart): SqlPart {
    if (part.isPlain) return part;
    const known = this.known.get(part.text);
    if (known) return known;
    this.steps += 1;
    return this.define(`step.${this.steps}`, part);
  }

  /** How many columns it has. */
  get size(): number {
    return this.columns.length;
  }

  /** Adds a column by name, and gives it. */
  define(name: string, part: SqlPart): SqlPart {
    const quoted = this.dialect.identifier(name);
    const level = 1 + Math.max(0, ...[...part.columns].map((column) => this.levels.get(column) ?? 0));
    this.levels.set(quoted, level);
    this.columns.push({ quoted, text: part.text, level });
    const column = sqlColumn(quoted, part.mayBeBlank);
    if (!this.known.has(part.text)) this.known.set(part.text, column);
    return column;
  }

  /**
   * A query for the columns wanted, as a chain of common table expressions.
   *
   * @param base the query that gives the columns that no level defines
   * @param wanted quoted names, in order
   */
  query(base: string, wanted: readonly string[]): string {
    const last = this.columns.reduce((highest, { level }) => Math.max(highest, level), 0);
    const { fence } = this.dialect;
    const steps = [`level_0 AS (\n${base}${fence}\n)`];
    for (let level = 1; level <= last; level++) {
      const added = this.columns.filter((column) => column.level === level).map(({ quoted, text }) => `  ${text} AS ${quoted}`);
      steps.push(`level_${level} AS (\nSELECT level_${level - 1}.*,\n${added.join(',\n')}\nFROM level_${level - 1}${fence}\n)`);
    }
    return `WITH ${steps.join(',\n')}\nSELECT\n${wanted.map((quoted) => `  ${quoted}`).join(',\n')}\nFROM level_${last}`;
  }
}
