/**
 * Writes the texts as found of one row into one cell: `released_primary_start "~104"; applied_time "60 s"`.
 * Each text is quoted as JSON quotes it, so that any text comes back.
 */
export function formatAsFound(asFound: ReadonlyMap<string, string>): string {
  return [...asFound].map(([name, text]) => `${name} ${JSON.stringify(text)}`).join('; ');
}

const ITEM = /([a-z][a-z0-9_]*) ("(?:[^"\\]|\\.)*")(?:; |$)/gy;

/**
 * Reads the cell that {@link formatAsFound} wrote. Text that was not written by it gives an empty result.
 *
 * @example parseAsFound('applied_time "60 s"').get('applied_time') // '60 s'
 */
export function parseAsFound(cell: string): Map<string, string> {
  const found = new Map<string, string>();
  ITEM.lastIndex = 0;
  let end = 0;
  for (let match = ITEM.exec(cell); match; match = ITEM.exec(cell)) {
    end = ITEM.lastIndex;
    const text = parseQuoted(match[2]!);
    if (text === null) return new Map();
    found.set(match[1]!, text);
  }
  return end === cell.length ? found : new Map();
}

function parseQuoted(quoted: string): string | null {
  try {
    return JSON.parse(quoted) as string;
  } catch {
    return null;
  }
}
