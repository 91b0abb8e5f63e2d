import { plainLine } from './plain-line.js';

/** The closed list of things that can go wrong. The command line turns each into an exit code. */
export type ErrorCode =
  | 'usage'
  | 'input_missing'
  | 'input_unreadable'
  | 'input_empty'
  | 'header_missing'
  | 'limit_set_unknown'
  | 'limit_set_invalid'
  | 'expression_invalid'
  | 'output_exists'
  | 'output_unwritable'
  | 'defect';

/** What an error tells: what is wrong, where, and how to mend it. */
export interface ErrorDetails {
  readonly code: ErrorCode;
  /** What is wrong, as a clause: "the file holds no rows". */
  readonly what: string;
  /** The place: a file, "sheet Readings, cell D4", "check released_loss, at_most". */
  readonly where?: string;
  /** What to do about it, as an imperative clause. */
  readonly mend?: string;
  readonly cause?: unknown;
}

/**
 * The one error class of the library. Its message is a single line: where, what and the mend.
 *
 * @example
 * new TreadlebookError({ code: 'input_empty', where: 'fleet.csv', what: 'the file holds no rows', mend: 'export it again' }).message
 * // 'fleet.csv: the file holds no rows; export it again'
 */
export class TreadlebookError extends Error {
  readonly code: ErrorCode;
  readonly what: string;
  readonly where: string | undefined;
  readonly mend: string | undefined;

  constructor(details: ErrorDetails) {
    const { code, what, where, mend, cause } = details;
    const line = plainLine(`${where ? `${where}: ` : ''}${what}${mend ? `; ${mend}` : ''}`.replace(/\s*[\r\n]+\s*/g, ' '));
    super(line, cause === undefined ? undefined : { cause });
    this.name = 'TreadlebookError';
    this.code = code;
    this.what = what;
    this.where = where;
    this.mend = mend;
  }
}
