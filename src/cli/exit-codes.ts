import type { ErrorCode } from '../util/treadlebook-error.js';

/** The exit codes of the command line. */
export const EXIT = { done: 0, found: 1, usage: 2, input: 3, output: 4, defect: 70 } as const;

/** The exit code of each kind of error. */
export const EXIT_OF_ERROR: Readonly<Record<ErrorCode, number>> = {
  usage: EXIT.usage,
  limit_set_unknown: EXIT.usage,
  limit_set_invalid: EXIT.usage,
  expression_invalid: EXIT.usage,
  input_missing: EXIT.input,
  input_unreadable: EXIT.input,
  input_empty: EXIT.input,
  header_missing: EXIT.input,
  output_exists: EXIT.output,
  output_unwritable: EXIT.output,
  defect: EXIT.defect,
};
