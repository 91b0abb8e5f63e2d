import type { Understood } from './parse-result.js';
import { understood } from './parse-result.js';

const WORDS = new Set(['n/a', 'n.a.', 'n.a', 'na', 'nt', 'n/t', 'n.t.', 'not tested', 'not measured']);

/**
 * Recognises the marks people write where nothing was measured: a dash, `n/a`, `nt`, `not tested`,
 * `not measured`. A question mark is none of them, for it may mean a doubtful reading.
 *
 * @param text a cell's text, cleaned by `cleanCellText`
 * @returns an understood `null`, not exact; or `null` where the text is no such mark
 *
 * @example
 * parseNotMeasured('n/a') // { ok: true, value: null, exact: false }
 * parseNotMeasured('104') // null
 */
export function parseNotMeasured(text: string): Understood<null> | null {
  return /^[-–—]+$/u.test(text) || WORDS.has(text.toLowerCase()) ? understood(null, false) : null;
}
