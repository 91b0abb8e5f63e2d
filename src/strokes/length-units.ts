/** The units of a stroke. */
export type LengthUnit = 'in' | 'mm';

/** The international inch, exact since 1959 (NIST SP 811, appendix B). */
export const MM_PER_INCH = 25.4;

const UNITS: readonly (readonly [pattern: RegExp, unit: LengthUnit | 'cm'])[] = [
  [/^(?:"|''|in|ins|inch|inches)\.?$/iu, 'in'],
  [/^(?:mm|mms|millim(?:et(?:re|er))s?)\.?$/iu, 'mm'],
  [/^(?:cm|cms|centim(?:et(?:re|er))s?)\.?$/iu, 'cm'],
];

/**
 * Reads the name of a unit of length.
 *
 * @example parseLengthUnit('inches') // 'in'
 */
export function parseLengthUnit(text: string): LengthUnit | 'cm' | null {
  return UNITS.find(([pattern]) => pattern.test(text))?.[1] ?? null;
}

/** The unit that a header names, in brackets or as its last word: `Stroke (mm)`, `Stroke in`. */
export function lengthUnitIn(header: string): LengthUnit | null {
  const last = /[([]\s*([^()[\]]{1,20}?)\s*[)\]]\s*$/u.exec(header)?.[1] ?? /[\s_,]([^\s_,]{1,12})$/u.exec(header)?.[1] ?? '';
  const unit = parseLengthUnit(last);
  return unit === 'cm' ? null : unit;
}

/** A length in another unit, unrounded. */
export function convertLength(value: number, from: LengthUnit, to: LengthUnit): number {
  if (from === to) return value;
  return from === 'mm' ? value / MM_PER_INCH : Number((value * MM_PER_INCH).toPrecision(15));
}
