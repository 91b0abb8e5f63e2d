import { describe, expect, it } from 'vitest';
import { atmosphericPressure } from '../../src/physics/atmospheric-pressure.js';
import { buildupOverSpan } from '../../src/physics/buildup-over-span.js';
import { coolingDrop } from '../../src/physics/cooling-drop.js';
import { equivalentHole } from '../../src/physics/equivalent-hole.js';
import { expectedBuildup } from '../../src/physics/expected-buildup.js';
import { freeAirFlow } from '../../src/physics/free-air-flow.js';
import { freeAirStored } from '../../src/physics/free-air-stored.js';
import { holdToDecide } from '../../src/physics/hold-to-decide.js';
import { lossMargin } from '../../src/physics/loss-margin.js';
import { orificeFlow } from '../../src/physics/orifice-flow.js';
import { PASCALS_PER_PSI, STANDARD_AIR } from '../../src/physics/standard-air.js';
import { sureLosses } from '../../src/physics/sure-losses.js';
import { CRITICAL_RATIO, unitFlow } from '../../src/physics/unit-flow.js';
import { fromPsi } from '../../src/readings/pressure-units.js';

// NIST SP 811, Appendix B, all exact: 1 ft3 = 28.316846592 L, 1 in = 25.4 mm, 1 US gal = 3.785411784 L.
const LITRES_PER_FT3 = 28.316846592;
const MM_PER_INCH = 25.4;
const LITRES_PER_GALLON = 3.785411784;

const apart = (found: number | null, published: number): number => Math.abs(found! / published - 1);

describe('pressure-drop test, NAVFAC MO-209, Tables 5-3 and 5-4', () => {
  // Printed: pressure at each reading (psig), time since the start (minutes and seconds), loss over the interval (cfm).
  const READINGS = [[90, 0, 0], [80, 10, 42], [70, 23, 17], [60, 38, 34], [50, 58, 56], [40, 87, 28], [30, 135, 1], [20, 277, 40]] as const;
  const PRINTED_CFM = [40, 34, 28, 21, 15, 9, 3];
  // The volume is not printed; loss x minutes is 427.7 to 428.0 in every row, which is 629.16 ft3 by 10 / 14.7.
  const tankLitres = 629.16 * LITRES_PER_FT3;

  it.each(PRINTED_CFM.map((cfm, index) => [index + 1, cfm] as const))('interval %i loses %i cfm', (index, printed) => {
    const [[fromPsi, fromMin, fromS], [toPsi, toMin, toS]] = [READINGS[index - 1]!, READINGS[index]!];
    const minutes = toMin - fromMin + (toS - fromS) / 60;
    const litres = freeAirFlow({ lossPsiPerMin: (fromPsi - toPsi) / minutes, tankLitres })!;
    expect(Math.round(litres / LITRES_PER_FT3)).toBe(printed);
    // With its atmosphere of 14.7 psi the arithmetic is within half a unit of the third digit.
    expect(apart((litres / LITRES_PER_FT3) * (STANDARD_AIR.pressurePsi / 14.7), printed)).toBeLessThan(0.0008);
  });
});

describe('ideal-gas decay, 40 CFR 1065.644', () => {
  // Its example: 2.0000 L, from 50.600 to 25.300 kPa in 70 s at 293.15 K. n = 2.9657e-4 mol/s, which is 0.42804 L/min at
  // 101.325 kPa and that temperature (n R T / p with R = 8.314472).
  it('gives the molar flow of the example', () => {
    const lossPsiPerMin = ((50.6 - 25.3) / 70) * 60 * (1000 / PASCALS_PER_PSI);
    const litres = freeAirFlow({ lossPsiPerMin, tankLitres: 2 })!;
    expect(litres).toBeCloseTo(0.4280427197, 9);
    expect((litres / 60_000) * (101_325 / (8.314472 * 293.15))).toBeCloseTo(2.96570468e-4, 12);
  });
});

describe('receiver capacity, US DOE MEASUR tool suite, values of its unit tests', () => {
  // They take 7.48 gallons a cubic foot (exact: 7.480519...) and an atmosphere of 14.7 psi (14.69595).
  const inTheirUnits = (litres: number | null): number => (litres! / LITRES_PER_GALLON / 7.48) * (STANDARD_AIR.pressurePsi / 14.7);

  it.each([
    [660, 110, 100, 60.0240096038],
    [760, 150, 100, 345.5927825676],
  ])('%i gallons from %i to %i psi hold %d ft3', (gallons, fromPsi, toPsi, cubicFeet) => {
    expect(inTheirUnits(freeAirStored({ fromPsi, toPsi, tankLitres: gallons * LITRES_PER_GALLON }))).toBeCloseTo(cubicFeet, 9);
  });

  it('150 cfm for a minute lower 5497.8 gallons by 3 psi', () => {
    expect(inTheirUnits(freeAirFlow({ lossPsiPerMin: 3, tankLitres: 5497.8 * LITRES_PER_GALLON }))).toBeCloseTo(150, 9);
  });
});

describe('discharge of air through an orifice, Compressed Air and Gas Institute', () => {
  // Cubic feet of free air a minute at 14.7 psia and 70 F, coefficient 1.00; diameters in inches. Values up to 15 psig are
  // printed as of the adiabatic formula, those above as of Moss's formula, W = 0.5303 A C P / sqrt(T) at 530 R with 0.07494 lb a
  // cubic foot. Those constants give 0.34 % less than an ideal gas of R = 287.05 (0.5317, 529.67 R, 0.07491 lb), and the print is
  // within 0.38 % of them.
  const DIAMETERS = [1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4];
  const TABLE: readonly (readonly number[])[] = [
    [1, 0.028, 0.112, 0.45, 1.8, 7.18],
    [2, 0.04, 0.158, 0.633, 2.53, 10.1],
    [4, 0.056, 0.223, 0.892, 3.56, 14.3],
    [7, 0.073, 0.293, 1.17, 4.68, 18.7],
    [12, 0.095, 0.379, 1.52, 6.07, 24.3],
    [60, 0.264, 1.06, 4.23, 16.9, 67.6],
    [70, 0.3, 1.2, 4.79, 19.2, 76.7],
    [80, 0.335, 1.34, 5.36, 21.4, 85.7],
    [90, 0.37, 1.48, 5.92, 23.7, 94.8],
    [100, 0.406, 1.62, 6.49, 26.0, 104],
    [110, 0.441, 1.76, 7.05, 28.2, 113],
    [120, 0.476, 1.91, 7.62, 30.5, 122],
    [125, 0.494, 1.98, 7.9, 31.6, 126],
  ];
  const conditions = { temperatureC: (70 - 32) / 1.8, atmospherePsi: 14.7, coefficient: 1 };
  const cells = TABLE.flatMap(([gaugePsi, ...cfm]) => cfm.map((printed, index) => [gaugePsi!, DIAMETERS[index]!, printed] as const));

  it.each(cells)('%d psig, %d in: %d cfm', (gaugePsi, inches, printed) => {
    const cfm = (orificeFlow(inches * MM_PER_INCH, { gaugePsi, ...conditions })! / LITRES_PER_FT3) * (STANDARD_AIR.pressurePsi / 14.7);
    expect(Math.abs(cfm - printed)).toBeLessThanOrEqual(0.0005 + (1.0034 * 1.0038 - 1) * printed);
  });

  it.each(cells)('%d psig, %d in is the hole of %d cfm', (gaugePsi, inches, printed) => {
    const hole = equivalentHole(printed * LITRES_PER_FT3, { gaugePsi, ...conditions })!;
    // Half of the flow's part, for the flow goes with the square; and half of the last digit of the smallest hole.
    expect(apart(hole.diameterMm, inches * MM_PER_INCH)).toBeLessThan(0.004 + 0.00025 / printed);
    expect(hole.kind).toBe(gaugePsi > 13.1261 ? 'choked' : 'subcritical');
  });

  it('a sharp edge passes 0.65 of it, and twice the diameter four times as much', () => {
    const [sharp, ideal] = [orificeFlow(1, { gaugePsi: 100 })!, orificeFlow(1, { gaugePsi: 100, coefficient: 1 })!];
    expect(sharp / ideal).toBeCloseTo(0.65, 12);
    expect(orificeFlow(2, { gaugePsi: 100 })! / sharp).toBeCloseTo(4, 12);
  });
});

describe('choked flow', () => {
  // Printed in every table of compressible flow (NACA Report 1135): critical ratio .5283 for k = 1.4.
  it('has the critical ratio of air', () => {
    expect(CRITICAL_RATIO).toBeCloseTo(0.5282817877, 10);
  });

  it('begins at 13.1261 psig into an atmosphere of 14.7 psia', () => {
    const kind = (gaugePsi: number): string => unitFlow({ gaugePsi, atmospherePsi: 14.7 })!.kind;
    expect([kind(13.126), kind(13.1262)]).toStrictEqual(['subcritical', 'choked']);
    const flow = (gaugePsi: number): number => unitFlow({ gaugePsi, atmospherePsi: 14.7 })!.litresPerMinPerMm2;
    expect(apart(flow(13.126), flow(13.1262))).toBeLessThan(1e-5);
  });

  // Mass flow = A p0 0.0404148996 / sqrt(T) for R = 287.05: 1 mm2 at 800 kPa absolute and 293.15 K passes 1.88836761e-3 kg/s,
  // which is 94.0954513 L/min at 101.325 kPa.
  it('passes what the constant of choked flow says', () => {
    const gaugePsi = 800_000 / PASCALS_PER_PSI - STANDARD_AIR.pressurePsi;
    expect(unitFlow({ gaugePsi, coefficient: 1 })!.litresPerMinPerMm2).toBeCloseTo(94.0954513, 7);
  });

  // US DOE MEASUR, value of its unit test: 550 F, 14.7 psia, coefficient 1, four holes of 0.375 in, 100 psig: 1295.125 cfm of air
  // at 14.7 psia and the temperature of the tank. It takes R = 53.34 ft lbf/(lb R) and g = 32.2 ft/s2.
  it('agrees with MEASUR on hot air', () => {
    const litres = 4 * orificeFlow(0.375 * MM_PER_INCH, { gaugePsi: 100, atmospherePsi: 14.7, temperatureC: (550 - 32) / 1.8, coefficient: 1 })!;
    expect(apart((litres / LITRES_PER_FT3) * (STANDARD_AIR.pressurePsi / 14.7), 1295.1250307181)).toBeLessThan(0.001);
  });
});

describe('the air outside, U.S. Standard Atmosphere, 1976', () => {
  it.each([
    [0, 14.696],
    [5000, 12.228],
    [10_000, 10.108],
  ])('at %i ft: %d psia', (feet, printed) => {
    expect(Number(atmosphericPressure(feet * 0.3048)!.toFixed(3))).toBe(printed);
  });

  // The standard's own height of even gravity, 11 km, is 11 019 m on a map.
  it('at 11 km: 22632.1 Pa', () => {
    const onTheMap = 11_000 / (1 - 11_000 / 6_356_766);
    expect((atmosphericPressure(onTheMap - 1e-6)! * PASCALS_PER_PSI).toFixed(1)).toBe('22632.1');
  });

  it('is the atmosphere of 101.325 kPa at the sea, as the units of the readings have it', () => {
    expect(fromPsi(STANDARD_AIR.pressurePsi, 'kPa')).toBeCloseTo(101.325, 12);
    expect(fromPsi(atmosphericPressure(0)!, 'kPa')).toBeCloseTo(101.325, 12);
    expect(fromPsi(1, 'kPa')).toBeCloseTo(PASCALS_PER_PSI / 1000, 14);
  });
});

describe('a closed tank that changes its temperature', () => {
  // Absolute pressures: the air outside is taken as none.
  const after = (psi: number, fromC: number, toC: number): number => psi - coolingDrop({ gaugePsi: psi, fromC, toC, atmospherePsi: 0 })!;

  // OpenStax, Chemistry 2e, 9.2, example on a hair spray can: 360 kPa at 24 C is 390 kPa at 50 C (two digits).
  it('hair spray can', () => {
    expect(Number(after(360, 24, 50).toPrecision(2))).toBe(390);
  });

  // The law of Gay-Lussac itself: 300 K to 200 K, so two thirds are left.
  it('two thirds of the kelvins leave two thirds of the pressure', () => {
    expect(apart(after(600, 26.85, -73.15), 400)).toBeLessThan(1e-12);
  });

  // OpenStax, College Physics, 13.3, example on a bicycle tyre: 7.00e5 Pa at 18.0 C is 7.41e5 Pa at 35.0 C.
  it('bicycle tyre', () => {
    expect(Number(after(7e5, 18, 35).toPrecision(3))).toBe(7.41e5);
  });
});

describe('build-up', () => {
  // 49 CFR 571.121, S5.1.1: 25 s from 85 to 100 psi, times actual by required reservoir volume: 25.0, 37.5, 45.0 s for 1.0,
  // 1.5, 1.8. One compressor on tanks of that size rises at that speed.
  it.each([
    [1, 25],
    [1.5, 37.5],
    [1.8, 45],
  ])('tanks of %d times the required volume take %d s', (ratio, seconds) => {
    const delivered = freeAirStored({ fromPsi: 85, toPsi: 100, tankLitres: 40 })! / 25;
    const needed = freeAirStored({ fromPsi: 85, toPsi: 100, tankLitres: 40 * ratio })!;
    expect(needed / delivered).toBeCloseTo(seconds, 12);
    // And brought to the span of the law from twice the span.
    expect(buildupOverSpan({ fromPsi: 70, toPsi: 100, seconds: 2 * seconds })).toBeCloseTo(seconds, 12);
  });

  // US DOE MEASUR: 660 gallons hold 60.024 ft3 between 100 and 110 psi. A compressor that makes 60.024 cfm takes a minute, and
  // two where the leak takes half of it.
  it('is what the receiver capacity says', () => {
    const good = { fromPsi: 100, toPsi: 110, seconds: 60 };
    const half = freeAirFlow({ lossPsiPerMin: 5, tankLitres: 660 * LITRES_PER_GALLON })! / LITRES_PER_FT3;
    expect(half * (STANDARD_AIR.pressurePsi / 14.7)).toBeCloseTo((60.0240096038 * (7.48 / (1728 / 231))) / 2, 9);
    expect(expectedBuildup(good, { fromPsi: 100, toPsi: 110, lossPsiPerMin: 5 })).toBeCloseTo(120, 12);
  });
});

describe('the gauge and the watch', () => {
  // JCGM 100:2008, F.2.2.1: u = 0.2886751346 of a resolution; two of them: 1 / sqrt(6) = 0.4082482905. JCGM 106:2012, Table 1:
  // 1.64 for 95 % (1.6448536).
  it('two readings of resolution 1 may miss their difference by 0.6715 at 95 %', () => {
    expect(lossMargin({ readableTo: 1 })).toBeCloseTo(0.4082482905 * 1.6448536, 7);
  });

  // Worked rates, u = resolution / (sqrt(6) minutes): 1 in 5 min 0.0816496581; 2 in 1 min 0.8164965809; 0.1 in 5 min
  // 0.0081649658; 1 in 10 min 0.0408248290; 0.5 in 2 min 0.1020620726. A rate that far from the limit, times z, is decided just
  // then.
  it.each([
    [1, 5, 0.0816496581],
    [2, 1, 0.8164965809],
    [0.1, 5, 0.0081649658],
    [1, 10, 0.040824829],
    [0.5, 2, 0.1020620726],
  ])('a gauge read to %d over %d minutes has u = %d', (readableTo, minutes, u) => {
    const distance = 1.6448536269514722 * u;
    expect(apart(holdToDecide(10 - distance, { limitPerMin: 10, readableTo }), minutes)).toBeLessThan(1e-7);
    expect(apart(holdToDecide(10 + distance, { limitPerMin: 10, readableTo }), minutes)).toBeLessThan(1e-7);
    const sure = sureLosses(minutes, { limitPerMin: 10, readableTo })!;
    expect(apart(sure.passAtMost! / minutes, 10 - distance)).toBeLessThan(1e-9);
    expect(apart(sure.failAtLeast / minutes, 10 + distance)).toBeLessThan(1e-9);
  });
});
