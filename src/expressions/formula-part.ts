/** What must hold for a piece of formula to have a value: cells that must hold a number, and tests that must be false. */
export interface Needs {
  /** Cells that must hold a number. */
  readonly numbers: ReadonlySet<string>;
  /** Formula texts that are TRUE when an operand is blank. */
  readonly blankTests: ReadonlySet<string>;
}

/** A piece of a spreadsheet formula. Inside a formula a blank is an error value; {@link guarded} turns it into an empty text. */
export interface FormulaPart {
  readonly text: string;
  readonly needs: Needs;
  /** True when the piece can be an error although its needs are met, as a division can. */
  readonly mayFail: boolean;
}

/** Needs nothing. */
export const NO_NEEDS: Needs = { numbers: new Set(), blankTests: new Set() };

/** The needs of several pieces together. */
export function allNeeds(parts: readonly { readonly needs: Needs }[]): Needs {
  return {
    numbers: new Set(parts.flatMap((part) => [...part.needs.numbers])),
    blankTests: new Set(parts.flatMap((part) => [...part.needs.blankTests])),
  };
}

/** The needs that are not already met where others are. */
export function needsBeyond(needs: Needs, met: Needs): Needs {
  return {
    numbers: new Set([...needs.numbers].filter((cell) => !met.numbers.has(cell))),
    blankTests: new Set([...needs.blankTests].filter((test) => !met.blankTests.has(test))),
  };
}

/** The formula text that is TRUE when a need is not met; null when there are no needs. */
export function blankCondition(needs: Needs): string | null {
  const tests = [...needs.blankTests];
  if (needs.numbers.size > 0) tests.unshift(`COUNT(${[...needs.numbers].join(',')})<${needs.numbers.size}`);
  if (tests.length === 0) return null;
  return tests.length === 1 ? tests[0]! : `OR(${tests.join(',')})`;
}

/** The text of a piece that gives `blank` where its needs are not met. */
export function guarded(part: FormulaPart, blank: string): string {
  const condition = blankCondition(part.needs);
  return condition === null ? part.text : `IF(${condition},${blank},${part.text})`;
}

/** Longest text between quotes that a formula may hold, in characters. */
const LONGEST_QUOTED = 255;

/** A text as a formula writes it; a longer one than a formula may hold is joined from pieces. */
export function quoteText(text: string): string {
  const characters = text.length <= LONGEST_QUOTED ? null : [...text];
  if (characters === null) return quoted(text);
  const pieces: string[] = [];
  const length = Math.floor(LONGEST_QUOTED / 2);
  for (let start = 0; start < characters.length; start += length) pieces.push(quoted(characters.slice(start, start + length).join('')));
  return `(${pieces.join('&')})`;
}

function quoted(text: string): string {
  return `"${text.replaceAll('"', '""')}"`;
}
