import { z } from 'zod';
import { readPackageJsonFile } from '../util/read-package-json-file.js';
import { measureSchema, type Measure } from './measure.js';

let measures: readonly Measure[] | undefined;

/** The measures that every limit set can use, from `workbooks/measures.json`. */
export function sharedMeasures(): readonly Measure[] {
  return (measures ??= z.array(measureSchema).parse(readPackageJsonFile('workbooks', 'measures.json')));
}
