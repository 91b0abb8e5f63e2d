/** The longest text that a formula may hold in one piece. */
const LONGEST_PIECE = 250;

/** A piece of a text: words, or a number that stands in a cell with a name. */
export type TextPiece = string | { readonly name: string; readonly value: number; readonly times?: number };

/** A text as it stands, and the formula that gives it; null where no number of it stands in a cell. */
export interface FormulaText {
  readonly text: string;
  readonly formula: string | null;
}

/**
 * Puts a text together whose numbers stand in cells, so that a changed cell changes the words.
 *
 * @example textFormula(['at most ', { name: 'limit_warning_1', value: 60 }, ' psi']).formula // '"at most "&limit_warning_1&" psi"'
 */
export function textFormula(pieces: readonly TextPiece[]): FormulaText {
  const clean = joined(pieces.map((piece) => (typeof piece === 'string' ? piece.replace(/[\u0000-\u001f]/g, ' ') : piece)));
  const text = clean.map((piece) => (typeof piece === 'string' ? piece : numberText(piece.value * (piece.times ?? 1)))).join('');
  if (clean.every((piece) => typeof piece === 'string')) return { text, formula: null };
  const parts = clean.flatMap((piece) => (typeof piece === 'string' ? quoted(piece) : [piece.times === undefined ? piece.name : `${piece.name}*${piece.times}`]));
  return { text, formula: parts.join('&') };
}

/** The pieces with neighbouring words put together, and none of them empty. */
function joined(pieces: readonly TextPiece[]): TextPiece[] {
  const whole: TextPiece[] = [];
  for (const piece of pieces) {
    const last = whole.at(-1);
    if (typeof piece === 'string' && typeof last === 'string') whole[whole.length - 1] = last + piece;
    else if (piece !== '') whole.push(piece);
  }
  return whole;
}

/** A number as a spreadsheet program joins it to a text: 15 digits. */
function numberText(value: number): string {
  return String(Number(value.toPrecision(15)));
}

function quoted(words: string): string[] {
  const pieces: string[] = [];
  const letters = [...words];
  for (let at = 0; at < letters.length; at += LONGEST_PIECE / 2) pieces.push(`"${letters.slice(at, at + LONGEST_PIECE / 2).join('').replaceAll('"', '""')}"`);
  return pieces;
}
