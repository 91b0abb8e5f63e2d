import type { Parts } from './read-parts.js';

/**
 * Takes U+FFFE and U+FFFF out of the parts, which XML does not allow and the maker of the template lets through.
 * In the text of cells they become an escape that spreadsheet programs read back, elsewhere U+FFFD.
 */
export function cleanParts(parts: Parts): void {
  for (const [path, bytes] of parts) {
    if (!path.endsWith('.xml') || !(bytes.includes('\ufffe') || bytes.includes('\uffff'))) continue;
    const holdsCells = path === 'xl/sharedStrings.xml' || path.startsWith('xl/worksheets/');
    const clean = bytes.toString('utf8').replace(/[\ufffe\uffff]/g, (character) => {
      if (!holdsCells) return '\ufffd';
      return character === '\ufffe' ? '_xFFFE_' : '_xFFFF_';
    });
    parts.set(path, Buffer.from(clean));
  }
}
