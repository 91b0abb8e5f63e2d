import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';

/** Folders of tests whose subject is the program's own computing. */
const FOLDERS = ['expressions', 'fleet', 'formats', 'limits', 'physics', 'places', 'properties', 'published', 'readings', 'statistics', 'strokes', 'util'];

/** It takes as long as half of all the others. */
const LONG = ['tests/properties/round-trip.property.test.ts'];

/** What another program is started with, or a module put in the place of another. */
const NOT_QUICK = /node:child_process|\bvi\.(?:mock|doMock|stub)|\bprocess\.env\[[^\]]+\] = /;

/**
 * The test files of {@link FOLDERS} that are not long and start no other program, they themselves or what they import from the tests. They leave nothing behind in
 * their process, so that one process can run them all, and they are run in several places.
 *
 * @param root the folder of the package
 */
export function quickTests(root: string): string[] {
  const known = new Map<string, boolean>();
  const isQuick = (file: string): boolean => {
    const answer = known.get(file);
    if (answer !== undefined) return answer;
    known.set(file, true);
    const text = readFileSync(file, 'utf8');
    const imported = [...text.matchAll(/from '(\.[^']+)\.js'/g)].map(([, path]) => `${resolve(dirname(file), path!)}.ts`).filter((path) => path.startsWith(join(root, 'tests')));
    const quick = !NOT_QUICK.test(text) && imported.every(isQuick);
    known.set(file, quick);
    return quick;
  };
  return FOLDERS.flatMap((folder) => (readdirSync(join(root, 'tests', folder), { recursive: true }) as string[]).filter((name) => name.endsWith('.test.ts')).map((name) => join('tests', folder, name))).filter((name) => !LONG.includes(name) && isQuick(join(root, name))).sort();
}
