import { existsSync } from 'node:fs';
import { combineLimitSets } from './combine-limit-sets.js';
import type { LimitSet } from './limit-set.js';
import { loadLimitSet } from './load-limit-set.js';

/** A limit set, or several together: identifiers, paths to JSON files (several in one text are parted by commas), sets. */
export type LimitsGiven = string | LimitSet | readonly (string | LimitSet)[];

/**
 * The limit set that is given, several put together into one. Without any, the default.
 *
 * @throws TreadlebookError `limit_set_unknown`, `limit_set_invalid`
 * @example limitSetOf('us-nevada,us-new-hampshire').together.length // 2
 */
export function limitSetOf(limits: LimitsGiven | undefined): LimitSet {
  if (limits === undefined) return loadLimitSet();
  if (typeof limits === 'string') return combined(partsOf(limits));
  return isList(limits) ? combined(limits.flatMap((one): readonly (string | LimitSet)[] => (typeof one === 'string' ? partsOf(one) : (one.together ?? [one])))) : limits;
}

function isList(limits: LimitSet | readonly (string | LimitSet)[]): limits is readonly (string | LimitSet)[] {
  return Array.isArray(limits);
}

/** A path may hold a comma; a name that is there as a file is one. */
function partsOf(text: string): string[] {
  if (!text.includes(',') || existsSync(text)) return [text];
  return text.split(',').map((part) => part.trim()).filter((part) => part !== '');
}

function combined(limits: readonly (string | LimitSet)[]): LimitSet {
  if (limits.length === 0) return loadLimitSet('');
  return combineLimitSets(limits.map((one) => (typeof one === 'string' ? loadLimitSet(one) : one)));
}
