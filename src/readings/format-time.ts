import { TreadlebookError } from '../util/treadlebook-error.js';

/**
 * Writes a length of time as minutes and seconds, rounded to the millisecond.
 *
 * @param seconds not below zero
 * @returns `m:ss`, with up to three decimals
 * @throws TreadlebookError where the number is negative, not finite, or too large to hold milliseconds
 *
 * @example
 * formatTime(250) // '4:10'
 * formatTime(47.5) // '0:47.5'
 */
export function formatTime(seconds: number): string {
  const milliseconds = Math.round(seconds * 1000);
  if (!(milliseconds >= 0 && milliseconds <= Number.MAX_SAFE_INTEGER)) {
    throw new TreadlebookError({
      code: 'defect',
      what: `${seconds} seconds cannot be written as minutes and seconds`,
      mend: 'give a number of seconds that is not below zero',
    });
  }
  const minutes = Math.floor(milliseconds / 60_000);
  const rest = milliseconds % 60_000;
  const whole = String(Math.floor(rest / 1000)).padStart(2, '0');
  const decimals = String(rest % 1000).padStart(3, '0').replace(/0+$/, '');
  return `${minutes}:${whole}${decimals === '' ? '' : `.${decimals}`}`;
}
