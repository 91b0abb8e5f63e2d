import { readPackageJsonFile } from '../util/read-package-json-file.js';

/** The version of the program, from package.json. */
export function programVersion(): string {
  return (readPackageJsonFile('package.json') as { version: string }).version;
}
