import { readFileSync } from 'node:fs';
import { packagePath } from './package-path.js';

/** Reads and parses a JSON file that ships beside the code. */
export function readPackageJsonFile(...parts: string[]): unknown {
  return JSON.parse(readFileSync(packagePath(...parts), 'utf8'));
}
