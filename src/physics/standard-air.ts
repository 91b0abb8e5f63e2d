/**
 * Air as the functions of this folder take it: a dry ideal gas.
 *
 * `pressurePsi` and `pressureKpa`: the standard atmosphere, 101.325 kPa exactly (NIST SP 811, Appendix B), at which free air
 * is counted. `gasConstant`: J/(kg K), and `heatRatio`: specific heat at constant pressure by that at constant volume
 * (U.S. Standard Atmosphere, 1976: 8314.32 / 28.9644 = 287.05; 1.4).
 */
export const STANDARD_AIR = { pressureKpa: 101.325, pressurePsi: 14.69594877551345, gasConstant: 287.05, heatRatio: 1.4 } as const;

/** Zero degrees Celsius in kelvin, exact. */
export const ZERO_CELSIUS_K = 273.15;

/** Pascals in a psi, from the exact pound, standard gravity and inch (NIST SP 811, Appendix B). */
export const PASCALS_PER_PSI = 6894.757293168362;
