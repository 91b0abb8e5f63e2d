import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { z } from 'zod';
import { nearestName } from '../util/nearest-name.js';
import { packagePath } from '../util/package-path.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { limitSetSchema, type LimitSet } from './limit-set.js';

/** The set that is used when none is named. */
export const DEFAULT_LIMIT_SET = 'common-practice';

/** Largest limit-set file, in bytes: a hundred times the largest that ships. */
const LARGEST_FILE = 1_000_000;

/** The identifiers of the sets that ship with the program, in order. */
export function limitSetIds(): string[] {
  return readdirSync(packagePath('workbooks', 'limits'))
    .filter((name) => name.endsWith('.json'))
    .map((name) => name.slice(0, -'.json'.length))
    .sort();
}

/**
 * Loads a limit set by its identifier, or from a file of the user's own.
 *
 * @param idOrFile `common-practice`, or a path that ends in `.json`
 * @throws TreadlebookError `limit_set_unknown`, with the nearest name; `limit_set_invalid`, with the place
 * @example loadLimitSet('us-nevada').authority
 */
export function loadLimitSet(idOrFile: string = DEFAULT_LIMIT_SET): LimitSet {
  if (!/\.json$/i.test(idOrFile)) return loadBuiltIn(idOrFile);
  if (!existsSync(idOrFile)) {
    throw new TreadlebookError({ code: 'limit_set_unknown', where: idOrFile, what: 'there is no such limit-set file', mend: 'check the path, or name a set that ships: `treadlebook limits` lists them' });
  }
  return parseLimitSet(readText(idOrFile), idOrFile);
}

function readText(path: string): string {
  try {
    if (statSync(path).size > LARGEST_FILE) throw tooLarge(path);
    return readFileSync(path, 'utf8');
  } catch (cause) {
    if (cause instanceof TreadlebookError) throw cause;
    throw new TreadlebookError({ code: 'limit_set_unknown', where: path, what: `the limit-set file cannot be read (${(cause as NodeJS.ErrnoException).code ?? 'unknown fault'})`, mend: 'name a file that you may read', cause });
  }
}

function loadBuiltIn(id: string, where?: string): LimitSet {
  const ids = limitSetIds();
  if (!ids.includes(id)) {
    const near = nearestName(id, ids);
    throw new TreadlebookError({ code: 'limit_set_unknown', where, what: `there is no limit set ${JSON.stringify(id.slice(0, 60))}`, mend: `${near ? `did you mean ${near}? ` : ''}\`treadlebook limits\` lists the sets; a file of your own ends in .json` });
  }
  return parseLimitSet(readFileSync(packagePath('workbooks', 'limits', `${id}.json`), 'utf8'), id);
}

/**
 * Reads the text of a limit-set file.
 *
 * @throws TreadlebookError `limit_set_invalid`
 */
export function parseLimitSet(text: string, name: string): LimitSet {
  if (text.length > LARGEST_FILE) throw tooLarge(name);
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (cause) {
    throw new TreadlebookError({ code: 'limit_set_invalid', where: name, what: `it is not JSON: ${cause instanceof Error ? cause.message : ''}`, mend: 'check commas, quotes and brackets', cause });
  }
  const result = limitSetSchema.safeParse(json);
  if (result.success) return withChecks(result.data.extends === undefined ? result.data : extendLimitSet(loadBuiltIn(result.data.extends, `${name}, extends`), result.data), name);
  throw new TreadlebookError({ code: 'limit_set_invalid', where: name, what: describeIssues(result.error), mend: 'schemas/limit-set.schema.json describes the format' });
}

function tooLarge(where: string): TreadlebookError {
  return new TreadlebookError({ code: 'limit_set_invalid', where, what: `it is larger than ${LARGEST_FILE / 1_000_000} MB`, mend: 'name a limit set, not a file of readings' });
}

function extendLimitSet(base: LimitSet, own: LimitSet): LimitSet {
  const replaced = new Set(own.checks.map(({ check }) => check));
  return {
    ...own,
    extends: undefined,
    columns: [...base.columns, ...own.columns],
    measures: [...base.measures, ...own.measures],
    checks: [...base.checks.filter(({ check }) => !replaced.has(check)), ...own.checks],
    interval: own.interval ?? base.interval,
    ...(own.shown_in ?? base.shown_in ? { shown_in: own.shown_in ?? base.shown_in } : {}),
    conditions: [...base.conditions.filter(({ checks }) => checks.every((check) => !replaced.has(check))), ...own.conditions],
  };
}

function withChecks(set: LimitSet, name: string): LimitSet {
  if (set.checks.length > 0) return set;
  throw new TreadlebookError({ code: 'limit_set_invalid', where: name, what: 'the set has no checks', mend: 'add a check, or name a shipped set under "extends"' });
}

function describeIssues(error: z.ZodError): string {
  const all = error.issues.slice(0, 3).map((issue) => `${issue.path.length === 0 ? 'the file' : issue.path.join('.')}: ${issue.message}`.slice(0, 300));
  const more = error.issues.length - all.length;
  return all.join('; ') + (more > 0 ? `; and ${more} more` : '');
}
