import { partText, type Parts } from './read-parts.js';

/** The font that the maker of the template gives to cells without one of their own. */
const MAKERS_FONT = '<font><color theme="1"/><family val="2"/><scheme val="minor"/><sz val="11"/><name val="Calibri"/></font>';
const OUR_FONT = '<font><sz val="10"/><name val="Arial"/><family val="2"/></font>';
const STYLES = 'xl/styles.xml';

/**
 * Makes Arial 10 the default font of a workbook. Widths of columns are counted in digits of that font, and headers and footers are
 * set in it: its digits are as wide as those of the maker's font (7 pixels), and its metrics are at hand on every system, so that
 * columns are as wide everywhere.
 */
export function setDefaultFont(parts: Parts): void {
  if (!parts.has(STYLES)) return;
  const styles = partText(parts, STYLES);
  if (styles.includes(MAKERS_FONT)) parts.set(STYLES, Buffer.from(styles.replace(MAKERS_FONT, OUR_FONT)));
}
