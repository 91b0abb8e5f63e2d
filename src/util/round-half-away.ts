const POWERS = Array.from({ length: 16 }, (_, exponent) => 10 ** exponent);

/**
 * Rounds a number to decimals the way a spreadsheet's ROUND does: by its decimal digits, and a half away from zero,
 * so that `1.005` gives `1.01` and `-2.5` gives `-3`.
 *
 * @param decimals 0 to 15
 * @example roundHalfAway(1.005, 2) // 1.01
 */
export function roundHalfAway(value: number, decimals: number): number {
  // A zero below zero comes out as zero.
  if (Number.isInteger(value)) return value + 0;
  if (!Number.isFinite(value)) return value;
  const size = Math.abs(value);
  const power = POWERS[decimals]!;
  const scaled = size * power;
  if (scaled >= 2 ** 52) return value;
  const distance = scaled - Math.floor(scaled) - 0.5;
  const whole = Math.abs(distance) > 1e-9 * (scaled + 1) ? Math.round(scaled) : Math.round(shiftDecimalPoint(size, decimals));
  const rounded = whole / power;
  return value < 0 && rounded !== 0 ? -rounded : rounded;
}

function shiftDecimalPoint(size: number, places: number): number {
  const [digits, exponent] = size.toPrecision(15).includes('e') ? size.toExponential(14).split('e') : [size.toPrecision(15), '0'];
  return Number(`${digits}e${Number(exponent) + places}`);
}
