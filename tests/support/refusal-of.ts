import { expect } from 'vitest';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';

/** The error with which work is refused; a test fails where it is not refused, or with another kind of error. */
export function refusalOf(work: () => unknown): TreadlebookError {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(TreadlebookError);
    return error as TreadlebookError;
  }
  throw new Error('it was not refused');
}
