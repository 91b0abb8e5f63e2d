/** What an expression gives: a number, a text, or a truth (yes or no). */
export type ValueType = 'number' | 'text' | 'truth';

/** A value while a row is evaluated; null is blank. */
export type Value = number | string | boolean | null;
