const BEFORE = /^(?:[~≈≅≃]|(?:approximately|approx|about|around|circa|abt|ca)\b\.?|c\.) ?/iu;
const AFTER = / ?(?:~|\(?\bapprox(?:imately|\.)?\)?)$/iu;

/** A text without its mark of approximation. */
export interface ApproximateText {
  readonly approximate: boolean;
  readonly rest: string;
}

/**
 * Takes a mark of approximation (`~`, `≈`, `approx.`, `about`, `ca.`) off a text.
 *
 * @param text a cell's text, cleaned by `cleanCellText`
 *
 * @example
 * parseApproximate('approx. 104 psi') // { approximate: true, rest: '104 psi' }
 */
export function parseApproximate(text: string): ApproximateText {
  const rest = text.replace(BEFORE, '').replace(AFTER, '');
  return { approximate: rest !== text, rest };
}
