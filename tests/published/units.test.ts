import { describe, expect, test } from 'vitest';
import type { PressureUnit } from '../../src/readings/pressure-units.js';
import { convertPressure, fromPsi, PSI_PER, toPsi } from '../../src/readings/pressure-units.js';

function relativeError(found: number, published: number): number {
  return Math.abs(found / published - 1);
}

// NIST Special Publication 811 (2008), Appendix B: lb = 0.45359237 kg, g = 9.80665 m/s² and in = 0.0254 m are
// exact, and so is 1 bar = 100 kPa. Hence 1 lbf = 4.4482216152605 N, and a psi is that force on 0.0254² m².
const NEWTONS_PER_LBF = 44_482_216_152_605n; // in 1e-13 N
const SQUARE_INCH = 64_516n; // in 1e-8 m²

/** psi per kPa to thirty decimals, from the exact definitions. */
function psiPerKilopascal(): string {
  // 1000 Pa / (NEWTONS_PER_LBF 1e-13 / (SQUARE_INCH 1e-8)) = 1000 SQUARE_INCH 1e5 / NEWTONS_PER_LBF
  const digits = (1000n * SQUARE_INCH * 10n ** 5n * 10n ** 30n) / NEWTONS_PER_LBF;
  return `0.${digits.toString().padStart(30, '0')}`;
}

describe('pressure units against NIST SP 811, Appendix B', () => {
  test('the factors are the doubles nearest to the exact definitions', () => {
    expect(PSI_PER.psi).toBe(1);
    expect(PSI_PER.kPa).toBe(Number(psiPerKilopascal()));
    // 1 bar = 100 kPa, exact: the same digits two places further left.
    expect(PSI_PER.bar).toBe(Number(`${psiPerKilopascal()}e2`));
  });

  test('a psi in kPa begins with the digits printed in SP 811, B.9', () => {
    // Printed: pound-force per square inch (psi) to kilopascal (kPa), 6.894 757 E+00.
    expect(fromPsi(1, 'kPa').toFixed(6)).toBe('6.894757');
  });

  // Worked out from the exact definitions, to sixteen digits.
  test.each<[number, PressureUnit, number, PressureUnit]>([
    [1, 'psi', 6.894757293168361, 'kPa'],
    [1, 'psi', 0.06894757293168361, 'bar'],
    [1, 'kPa', 0.14503773773020922, 'psi'],
    [1, 'bar', 14.50377377302092, 'psi'],
    [1, 'bar', 100, 'kPa'],
    [101.325, 'kPa', 14.69594877551345, 'psi'], // standard atmosphere
    [14.7, 'psi', 101.35293220957491, 'kPa'],
    [98.0665, 'kPa', 14.22334330711957, 'psi'], // kgf/cm²
    [2, 'psi', 13.789514586336722, 'kPa'],
    [3, 'psi', 20.684271879505083, 'kPa'],
    [4, 'psi', 27.579029172673445, 'kPa'],
  ])('%d %s is %d %s', (value, from, published, to) => {
    expect(relativeError(convertPressure(value, from, to), published)).toBeLessThan(1e-15);
  });

  // Tabulated to twelve significant digits.
  test.each([
    [80, 551.580583453],
    [90, 620.528156385],
    [100, 689.475729317],
    [120, 827.37087518],
  ])('%d psi is %d kPa', (psi, published) => {
    expect(fromPsi(psi, 'kPa')).toBeCloseTo(published, 8);
    expect(toPsi(published, 'kPa')).toBeCloseTo(psi, 8);
  });
});
