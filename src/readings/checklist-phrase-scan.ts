/**
 * The words of a folded label, from which phrases are taken one after the other. What is left at the end says
 * whether the label has been understood as a whole.
 */
export class PhraseScan {
  private rest: string;

  constructor(folded: string) {
    this.rest = ` ${folded} `;
  }

  /** Takes the first place where a phrase stands; the match, or null. */
  take(phrase: RegExp): RegExpExecArray | null {
    const match = phrase.exec(this.rest);
    if (match) this.rest = `${this.rest.slice(0, match.index)} | ${this.rest.slice(match.index + match[0].length)}`;
    return match;
  }

  /** Takes a phrase wherever it stands; true where it did. */
  takeAll(phrase: RegExp): boolean {
    let taken = false;
    while (this.take(phrase)) taken = true;
    return taken;
  }

  /** The words that no phrase took. */
  left(): string[] {
    return this.rest.split(' ').filter((word) => word !== '' && word !== '|');
  }
}

/**
 * A pattern for whole words.
 *
 * @example wholeWords('cut ?in').test(' cut in ') // true
 */
export function wholeWords(source: string): RegExp {
  return new RegExp(`(?<= )(?:${source})(?= )`, 'u');
}
