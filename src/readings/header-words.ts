import { z } from 'zod';
import { nearestName } from '../util/nearest-name.js';
import { readPackageJsonFile } from '../util/read-package-json-file.js';
import { remembering } from '../util/remembering.js';

const fileSchema = z.strictObject({
  fillers: z.array(z.string()),
  joined: z.record(z.string(), z.string()),
  synonyms: z.record(z.string(), z.array(z.string())),
  fields: z.record(z.string(), z.array(z.array(z.string()))),
  tests: z.array(z.string()),
});

interface Words {
  readonly fillers: ReadonlySet<string>;
  readonly joined: readonly (readonly [string, string])[];
  readonly meaningOf: ReadonlyMap<string, string>;
  /** Fields by the meanings that name them, sorted and joined. */
  readonly fieldOf: ReadonlyMap<string, string>;
  readonly tests: readonly string[];
}

let words: Words | undefined;

function headerWords(): Words {
  if (words) return words;
  const file = fileSchema.parse(readPackageJsonFile('workbooks', 'header-words.json'));
  words = {
    fillers: new Set(file.fillers),
    joined: Object.entries(file.joined),
    meaningOf: new Map(Object.entries(file.synonyms).flatMap(([meaning, spellings]) => spellings.map((spelling) => [spelling, meaning] as const))),
    fieldOf: new Map(Object.entries(file.fields).flatMap(([field, sets]) => sets.map((set) => [keyOf(set), field] as const))),
    tests: file.tests,
  };
  return words;
}

function keyOf(meanings: Iterable<string>): string {
  return [...new Set(meanings)].sort().join(' ');
}

/** What the words of a header mean. */
export interface HeaderMeaning {
  readonly meanings: ReadonlySet<string>;
  /** True when a word was taken although it is misspelt by a letter. */
  readonly misspelt: boolean;
}

/**
 * The meanings of the words of a header, without words that say nothing: `Pri. start psi` means primary, start.
 *
 * @param folded the header in small letters with single spaces, without punctuation
 */
export function headerMeaning(folded: string): HeaderMeaning {
  const { fillers, joined, meaningOf } = headerWords();
  let text = ` ${folded} `;
  for (const [apart, together] of joined) text = text.replaceAll(` ${apart} `, ` ${together} `);
  const tokens = text.trim().split(' ').filter((token) => token !== '');
  const timed = tokens.some((token) => meaningOf.get(token) === 'time');
  const meanings = new Set<string>();
  let misspelt = false;
  for (const token of tokens) {
    if (fillers.has(token) || (timed && (token === 'sec' || token === 's'))) continue;
    const known = meaningOf.get(token);
    if (known !== undefined) {
      meanings.add(known);
      continue;
    }
    const near = slipOf(token);
    if (near !== null) {
      meanings.add(meaningOf.get(near)!);
      misspelt = true;
    } else {
      meanings.add(token);
    }
  }
  return { meanings, misspelt };
}

const MOST_SLIPS = 2000;

/** The word that a token is a slip of one letter away from, or null. Words repeat, and looking costs more than all the rest. */
const slipOf = remembering(MOST_SLIPS, (token) => {
  if (token.length < 5) return null;
  const near = nearestName(token, [...headerWords().meaningOf.keys()].filter((spelling) => spelling.length >= 5 && Math.abs(spelling.length - token.length) <= 1));
  return near !== null && withinOneSlip(token, near) ? near : null;
});

function withinOneSlip(a: string, b: string): boolean {
  let start = 0;
  while (start < a.length && start < b.length && a[start] === b[start]) start += 1;
  let end = 0;
  while (end < Math.min(a.length, b.length) - start && a[a.length - 1 - end] === b[b.length - 1 - end]) end += 1;
  const [left, right] = [a.length - start - end, b.length - start - end];
  return Math.max(left, right) <= 1 || (left === 2 && right === 2 && a[start] === b[start + 1] && a[start + 1] === b[start]);
}

/** The field that a set of meanings names, if it names one. */
export function fieldOfMeanings(meanings: Iterable<string>): string | null {
  return headerWords().fieldOf.get(keyOf(meanings)) ?? null;
}

/** The tests whose readings have the same words, such as released and applied. */
export function testsOfHeaders(): readonly string[] {
  return headerWords().tests;
}
