import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';

/** Folders of tests whose subject is the program's own computing. */
const FOLDERS = ['expressions', 'fleet', 'formats', 'limits', 'physics', 'places', 'properties', 'published', 'readings', 'statistics', 'strokes', 'util'];

/** It takes as long as half of all the others. */
const LONG = ['tests/properties/round-trip.property.test.ts'];

/** What another program is started with. */
const STARTING = /node:child_process/;

/** What is left behind in a process: a module put in the place of another, or a variable of its environment. */
const LEAVING = /\bvi\.(?:mock|doMock|stub)|\bprocess\.env(?:\[[^\]]+\]|\.\w+) = |\bprocess\.chdir\(/;

/**
 * The test files that leave nothing behind in their process, they themselves or what they import from the tests, so that
 * one process can run them all.
 *
 * @param root the folder of the package
 */
export function sharingTests(root: string): string[] {
  return testsWithout(LEAVING, root);
}

/** Those of {@link FOLDERS} that start no other program either, and are not long: they are run in several places. */
export function quickTests(root: string): string[] {
  const alone = new Set(testsWithout(STARTING, root));
  return sharingTests(root).filter((name) => alone.has(name) && FOLDERS.some((folder) => name.startsWith(join('tests', folder, '/'))) && !LONG.includes(name));
}

/** The test files that do not hold a pattern, nor import a file of the tests that does. */
function testsWithout(pattern: RegExp, root: string): string[] {
  const known = new Map<string, boolean>();
  const isWithout = (file: string): boolean => {
    const answer = known.get(file);
    if (answer !== undefined) return answer;
    known.set(file, true);
    const text = readFileSync(file, 'utf8');
    const imported = [...text.matchAll(/from '(\.[^']+)\.js'/g)].map(([, path]) => `${resolve(dirname(file), path!)}.ts`).filter((path) => path.startsWith(join(root, 'tests')));
    const answered = !pattern.test(text) && imported.every(isWithout);
    known.set(file, answered);
    return answered;
  };
  const names = readdirSync(join(root, 'tests'), { recursive: true }) as string[];
  return names.filter((name) => name.endsWith('.test.ts') && isWithout(join(root, 'tests', name))).map((name) => join('tests', name)).sort();
}
