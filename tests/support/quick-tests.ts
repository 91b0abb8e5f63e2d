import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';

/** Folders of tests whose subject is the program's own computing. */
const FOLDERS = ['expressions', 'fleet', 'formats', 'limits', 'physics', 'places', 'properties', 'published', 'readings', 'statistics', 'strokes', 'util'];

/** It takes as long as half of all the others. */
const LONG = ['tests/properties/round-trip.property.test.ts'];

/** What another program is started with, or a module put in the place of another. */
const NOT_SHARING = /node:child_process|\bvi\.(?:mock|doMock|stub)|\bprocess\.env\[[^\]]+\] = /;

/**
 * The test files that start no other program, they themselves or what they import from the tests. They leave nothing behind in their process, so that
 * one process can run them all.
 *
 * @param root the folder of the package
 */
export function sharingTests(root: string): string[] {
  const known = new Map<string, boolean>();
  const shares = (file: string): boolean => {
    const answer = known.get(file);
    if (answer !== undefined) return answer;
    known.set(file, true);
    const text = readFileSync(file, 'utf8');
    const imported = [...text.matchAll(/from '(\.[^']+)\.js'/g)].map(([, path]) => `${resolve(dirname(file), path!)}.ts`).filter((path) => path.startsWith(join(root, 'tests')));
    const answered = !NOT_SHARING.test(text) && imported.every(shares);
    known.set(file, answered);
    return answered;
  };
  const names = readdirSync(join(root, 'tests'), { recursive: true }) as string[];
  return names.filter((name) => name.endsWith('.test.ts') && shares(join(root, 'tests', name))).map((name) => join('tests', name)).sort();
}

/** Those of {@link FOLDERS} that are not long: they are run in several places. */
export function quickTests(root: string): string[] {
  return sharingTests(root).filter((name) => FOLDERS.some((folder) => name.startsWith(join('tests', folder, '/'))) && !LONG.includes(name));
}
