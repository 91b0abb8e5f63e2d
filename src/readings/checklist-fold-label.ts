import { cleanCellText } from './clean-cell-text.js';

/** A label is never longer than this; what is longer is text that somebody wrote. */
export const LONGEST_LABEL = 120;

/**
 * A label without case and punctuation: colons and dot leaders go, `#` is "no", hyphens part words.
 *
 * @example foldLabel('Unit #.......:') // 'unit no'
 */
export function foldLabel(text: string): string {
  return cleanCellText(text.slice(0, 4 * LONGEST_LABEL))
    .toLowerCase()
    .replace(/'s\b/g, 's')
    .replace(/#/g, ' no ')
    .replace(/(\d)[.,](?=\d)/g, '$1\u00b7')
    .replace(/[^\p{L}\p{N}\u00b7]+/gu, ' ')
    .trim();
}

/**
 * A label as it is shown: without the colon or dot leader at its end.
 *
 * @example shownLabel('Belt tension ..... :') // 'Belt tension'
 */
export function shownLabel(text: string): string {
  return cleanCellText(text).slice(0, 2 * LONGEST_LABEL).replace(/(?:[\s.:…]|_{3,})+$/u, '') || cleanCellText(text);
}
