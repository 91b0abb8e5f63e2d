import { z } from 'zod';
import { readPackageJsonFile } from '../util/read-package-json-file.js';

/** The cautions that are always shown: in the sheet Start here, in `--help` and in the README. */
export function cautions(): readonly string[] {
  return z.array(z.string()).parse(readPackageJsonFile('workbooks', 'cautions.json'));
}
