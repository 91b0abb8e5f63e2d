import type { XlsxBook } from '../formats/read-xlsx.js';
import { plainValue } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { isIsoDate } from './asked-period.js';
import { PROVENANCE_LABELS, PROVENANCE_SHEET } from './sheets/provenance-sheet.js';

/** What an evaluated workbook says of how it was made; null where it does not say. */
export interface StatedProvenance {
  /** The identifier of the limit set, and `us-nevada: its title`. */
  readonly limitSet: { readonly id: string; readonly words: string; readonly sha256: string | null } | null;
  /** The period that its summaries count, `yyyy-mm-dd`, both inclusive; null is open. */
  readonly from: string | null;
  readonly to: string | null;
}

const NOTHING: StatedProvenance = { limitSet: null, from: null, to: null };
/** Longest text that is taken over from the other workbook. */
const LONGEST = 180;

/** Reads what a workbook says on its sheet Provenance. A table that is no workbook, and a workbook that is none of ours, say nothing. */
export async function statedProvenance(book: Pick<XlsxBook, 'sheets'> | undefined): Promise<StatedProvenance> {
  if (!book) return NOTHING;
  const said = await linesOf(book);
  const words = said.get(PROVENANCE_LABELS.limitSet) ?? '';
  const day = (label: string): string | null => (isIsoDate(said.get(label)) ? said.get(label)! : null);
  const [from, to] = [day(PROVENANCE_LABELS.summariesFrom), day(PROVENANCE_LABELS.summariesUpTo)];
  const isPeriod = from === null || to === null || from <= to;
  return {
    limitSet: words.includes(':') ? { id: words.slice(0, words.indexOf(':')), words, sha256: said.get(PROVENANCE_LABELS.limitSetSha256) ?? null } : null,
    ...(isPeriod ? { from, to } : { from: null, to: null }),
  };
}

async function linesOf({ sheets }: Pick<XlsxBook, 'sheets'>): Promise<ReadonlyMap<string, string>> {
  const said = new Map<string, string>();
  try {
    const sheet = sheets.find(({ name }) => name === PROVENANCE_SHEET);
    for await (const { cells } of sheet?.table().rows ?? []) {
      const [label, value] = [plainValue(cells[0]), plainValue(cells[1])];
      if (typeof label === 'string' && typeof value === 'string' && !said.has(label)) said.set(label, value.slice(0, LONGEST));
    }
  } catch (error) {
    if (!(error instanceof TreadlebookError)) throw error;
    said.clear(); // Its readings could be read all the same.
  }
  return said;
}
