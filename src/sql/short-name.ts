import type { SqlDialect } from '../expressions/sql-dialect.js';
import { sha256 } from '../util/sha256.js';

/** So much of the hash tells two long names apart. */
const HASH_LENGTH = 8;

/**
 * A name as a dialect takes it: what is longer than it takes is cut, with a mark of the whole behind it.
 *
 * @example shortName('computed.verdict', DIALECTS.postgres) // 'computed.verdict'
 */
export function shortName(name: string, { longestName }: Pick<SqlDialect, 'longestName'>): string {
  if (longestName === null || Buffer.byteLength(name) <= longestName) return name;
  return `${name.slice(0, longestName - HASH_LENGTH - 1)}~${sha256(name).slice(0, HASH_LENGTH)}`;
}
