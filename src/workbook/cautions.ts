import { z } from 'zod';
import { readPackageJsonFile } from '../util/read-package-json-file.js';

const cautionSchema = z.strictObject({
  caution: z.string().min(1),
  /** The same in few words, for the header or footer of every page. */
  in_short: z.string().min(1).max(120),
  printed: z.enum(['header', 'footer']),
});

type Caution = z.output<typeof cautionSchema>;

let read: readonly Caution[] | undefined;

function all(): readonly Caution[] {
  return (read ??= z.array(cautionSchema).parse(readPackageJsonFile('workbooks', 'cautions.json')));
}

/** The cautions that are always shown: in the sheet Start here, in `--help` and in the README. */
export function cautions(): readonly string[] {
  return all().map(({ caution }) => caution);
}

/** The cautions in few words, as they stand in the header and the footer of every page that is printed. */
export function printedCautions(place: 'header' | 'footer'): readonly string[] {
  return all().flatMap(({ in_short, printed }) => (printed === place ? [in_short] : []));
}
