/** The longest name of a sheet. */
const LONGEST = 31;

/**
 * A name for the sheet of a report that every spreadsheet program takes: no `\ / ? * [ ] :`, no straight quote (the layout library writes print areas wrong with one), nothing that is read as the
 * code of a character, at most 31 characters, and none that was given before.
 *
 * @param taken the names given so far, in small letters; the new one is added
 * @example reportSheetName('T/7', '2026-03-14', new Set()) // 'T-7 2026-03-14'
 */
export function reportSheetName(unit: string, date: string, taken: Set<string>): string {
  const plain = unit.replace(/[\\/?*[\]:\p{C}\p{Surrogate}\ufffe\uffff]|_(?=x[0-9a-f]{4}_)/giu, '-').replace(/^'+|'+$/g, '').replaceAll("'", '\u2019').trim();
  for (let number = 1; ; number++) {
    const end = ` ${date}${number === 1 ? '' : ` (${number})`}`;
    const name = cut(plain, LONGEST - end.length) + end;
    if (taken.has(name.toLowerCase())) continue;
    taken.add(name.toLowerCase());
    return name;
  }
}

/** Cut to so many UTF-16 units, without halving a letter. */
function cut(text: string, length: number): string {
  let kept = '';
  for (const letter of text) {
    if (kept.length + letter.length > length) break;
    kept += letter;
  }
  return kept;
}
