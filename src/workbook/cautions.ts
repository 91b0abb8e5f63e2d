import { readPackageJsonFile } from '../util/read-package-json-file.js';

interface Caution {
  readonly caution: string;
  /** The same in few words, for the header or footer of every page. */
  readonly in_short: string;
  readonly printed: 'header' | 'footer';
}

let read: readonly Caution[] | undefined;

// Checked by hand: the help prints the cautions, and a library of schemas takes as long to load as everything else that it needs.
function all(): readonly Caution[] {
  if (read) return read;
  const found = readPackageJsonFile('workbooks', 'cautions.json');
  if (!Array.isArray(found) || found.length === 0 || !found.every(isCaution)) throw new Error('workbooks/cautions.json is not a list of cautions');
  return (read = found);
}

function isCaution(found: unknown): found is Caution {
  const { caution, in_short: inShort, printed, ...rest } = Object(found) as Record<string, unknown>;
  return isText(caution) && isText(inShort) && inShort.length <= LONGEST_IN_SHORT && (printed === 'header' || printed === 'footer') && Object.keys(rest).length === 0;
}

function isText(found: unknown): found is string {
  return typeof found === 'string' && found !== '';
}

/** What fits on the line of a page's header. */
const LONGEST_IN_SHORT = 120;

/** The cautions that are always shown: in the sheet Start here, in `--help` and in the README. */
export function cautions(): readonly string[] {
  return all().map(({ caution }) => caution);
}

/** The cautions in few words, as they stand in the header and the footer of every page that is printed. */
export function printedCautions(place: 'header' | 'footer'): readonly string[] {
  return all().flatMap(({ in_short, printed }) => (printed === place ? [in_short] : []));
}
