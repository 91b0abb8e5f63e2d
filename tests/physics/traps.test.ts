import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atmosphericPressure } from '../../src/physics/atmospheric-pressure.js';
import { buildupOverSpan } from '../../src/physics/buildup-over-span.js';
import { coolingDrop } from '../../src/physics/cooling-drop.js';
import { equivalentHole } from '../../src/physics/equivalent-hole.js';
import { expectedBuildup } from '../../src/physics/expected-buildup.js';
import { freeAirFlow } from '../../src/physics/free-air-flow.js';
import { freeAirStored } from '../../src/physics/free-air-stored.js';
import { holdToDecide } from '../../src/physics/hold-to-decide.js';
import { leakShareOfSlowBuildup } from '../../src/physics/leak-share-of-slow-buildup.js';
import { lossMargin } from '../../src/physics/loss-margin.js';
import { minutesUntilWarning } from '../../src/physics/minutes-until-warning.js';
import { orificeFlow } from '../../src/physics/orifice-flow.js';
import { sureLosses } from '../../src/physics/sure-losses.js';
import { unitFlow } from '../../src/physics/unit-flow.js';

describe('the leak in free air', () => {
  it('needs a tank; no leak is no flow and no hole', () => {
    expect(freeAirFlow({ lossPsiPerMin: 3, tankLitres: 0 })).toBeNull();
    expect(freeAirFlow({ lossPsiPerMin: 0, tankLitres: 100 })).toBe(0);
    expect(freeAirFlow({ lossPsiPerMin: -1, tankLitres: 100 })).toBeNull();
    expect(equivalentHole(0, { gaugePsi: 100 })).toStrictEqual({ diameterMm: 0, areaMm2: 0, kind: 'choked' });
  });

  it('is no hole without pressure to drive it', () => {
    expect(orificeFlow(1, { gaugePsi: 0 })).toBe(0);
    expect(equivalentHole(20, { gaugePsi: 0 })).toBeNull();
    expect(orificeFlow(1, { gaugePsi: -5 })).toBeNull();
    expect(orificeFlow(-1, { gaugePsi: 100 })).toBeNull();
  });

  it('passes more through the same hole the higher the gauge stands, without a step where it chokes', () => {
    const flows = Array.from({ length: 200 }, (_, psi) => unitFlow({ gaugePsi: psi })!.litresPerMinPerMm2);
    for (const [index, flow] of flows.slice(1).entries()) expect(flow).toBeGreaterThan(flows[index]!);
  });

  it('knows gauge from absolute: high up the same gauge pressure drives less air', () => {
    const atmospherePsi = atmosphericPressure(1600)!;
    const [sea, high] = [unitFlow({ gaugePsi: 100 })!, unitFlow({ gaugePsi: 100, atmospherePsi })!];
    expect(high.litresPerMinPerMm2 / sea.litresPerMinPerMm2).toBeCloseTo((100 + atmospherePsi) / 114.69594877551345, 12);
    expect(atmosphericPressure(12_000)).toBeNull();
    expect(atmosphericPressure(-6000)).toBeNull();
    expect(atmosphericPressure(NaN)).toBeNull();
  });
});

describe('minutes until the warning', () => {
  it('go down to it from the pressure that there is', () => {
    expect(minutesUntilWarning({ fromPsi: 120, warningPsi: 60, lossPsiPerMin: 3 })).toBe(20);
    expect(minutesUntilWarning({ fromPsi: 60, warningPsi: 60, lossPsiPerMin: 3 })).toBe(0);
    expect(minutesUntilWarning({ fromPsi: 60, warningPsi: 60, lossPsiPerMin: 0 })).toBe(0);
    expect(minutesUntilWarning({ fromPsi: 50, warningPsi: 60, lossPsiPerMin: 0 })).toBe(0);
    expect(minutesUntilWarning({ fromPsi: 120, warningPsi: 60, lossPsiPerMin: 0 })).toBe('never');
    expect(minutesUntilWarning({ fromPsi: 120, warningPsi: 60, lossPsiPerMin: -3 })).toBeNull();
  });
});

describe('a tank that cools', () => {
  it('loses, warms and stays', () => {
    expect(coolingDrop({ gaugePsi: 100, fromC: 30, toC: 20 })).toBeCloseTo((114.69594877551345 * 10) / 303.15, 12);
    expect(coolingDrop({ gaugePsi: 100, fromC: 20, toC: 30 })).toBeLessThan(0);
    expect(coolingDrop({ gaugePsi: 100, fromC: 20, toC: 20 })).toBe(0);
    expect(coolingDrop({ gaugePsi: 100, fromC: -300, toC: 20 })).toBeNull();
    expect(coolingDrop({ gaugePsi: 100, fromC: 20, toC: -273.15 })).toBeNull();
  });
});

describe('the hold that decides', () => {
  const gauge = { limitPerMin: 3, readableTo: 3 };

  it('is none at the limit, as long to either side, and at once on a perfect gauge', () => {
    expect(holdToDecide(3, gauge)).toBeNull();
    expect(holdToDecide(2, gauge)).toBeCloseTo(holdToDecide(4, gauge)!, 12);
    expect(holdToDecide(2, { ...gauge, readableTo: 0 })).toBe(0);
    expect(holdToDecide(-1, gauge)).toBeNull();
  });

  it('has no sure pass before an unmoved needle can be one', () => {
    const first = holdToDecide(0, gauge)!;
    expect(sureLosses(first * 0.999, gauge)!.passAtMost).toBeNull();
    expect(sureLosses(first * 1.001, gauge)!.passAtMost).toBeGreaterThanOrEqual(0);
    expect(sureLosses(0, gauge)).toBeNull();
  });

  it('asks less of a level that is lower', () => {
    // JCGM 106:2012, Table 1: 1.28 for 90 %.
    expect(holdToDecide(0, { ...gauge, sureZ: 1.2815516 })! / holdToDecide(0, gauge)!).toBeCloseTo(1.2815516 / 1.6448536, 7);
  });
});

/** Numbers of every size, also those that are none. */
const number = fc.oneof(fc.constantFrom(0, -0, 1, 1e-300, 1e300, -1, NaN, Infinity, -Infinity, 5e-324), fc.double());

function finite(found: unknown): boolean {
  if (typeof found === 'number') return Number.isFinite(found);
  return typeof found !== 'object' || found === null || Object.values(found).every(finite);
}

it('never gives a number that is none, whatever it is given', () => {
  fc.assert(
    fc.property(number, number, number, number, number, (a, b, c, d, e) => {
      const [first, second] = [{ fromPsi: a, toPsi: b, seconds: c, lossPsiPerMin: d }, { fromPsi: b, toPsi: a, seconds: e, lossPsiPerMin: c }];
      for (const found of [
        atmosphericPressure(a),
        freeAirStored({ fromPsi: a, toPsi: b, tankLitres: c }),
        freeAirFlow({ lossPsiPerMin: a, tankLitres: b }),
        unitFlow({ gaugePsi: a, temperatureC: b, atmospherePsi: c, coefficient: d }),
        orificeFlow(e, { gaugePsi: a, temperatureC: b, atmospherePsi: c, coefficient: d }),
        equivalentHole(e, { gaugePsi: a, temperatureC: b, atmospherePsi: c, coefficient: d }),
        buildupOverSpan(first, { fromPsi: d, toPsi: e }),
        expectedBuildup(first, { fromPsi: d, toPsi: e, lossPsiPerMin: a }),
        leakShareOfSlowBuildup(first, second),
        minutesUntilWarning({ fromPsi: a, warningPsi: b, lossPsiPerMin: c }),
        coolingDrop({ gaugePsi: a, fromC: b, toC: c, atmospherePsi: d }),
        lossMargin({ readableTo: a, sureZ: b }),
        holdToDecide(a, { limitPerMin: b, readableTo: c, sureZ: d }),
        sureLosses(a, { limitPerMin: b, readableTo: c, sureZ: d }),
      ]) expect(finite(found), JSON.stringify(found)).toBe(true);
    }),
    { seed: 5, numRuns: 3000 },
  );
});

describe('what a gauge decides', () => {
  it('is nothing without a gauge that can be read', () => {
    expect(holdToDecide(0, { limitPerMin: 3, readableTo: -1 })).toBeNull();
    expect(sureLosses(1, { limitPerMin: 3, readableTo: -1 })).toBeNull();
    expect(sureLosses(1, { limitPerMin: -3, readableTo: 1 })).toBeNull();
    expect(freeAirStored({ fromPsi: 100, toPsi: 90, tankLitres: -1 })).toBeNull();
  });

  it('lets an unmoved needle pass from the hold on whose limit is the margin', () => {
    const margin = lossMargin({ readableTo: 3 })!;
    expect(sureLosses(margin, { limitPerMin: 1, readableTo: 3 })!.passAtMost).toBe(0);
    expect(sureLosses(margin * 0.99, { limitPerMin: 1, readableTo: 3 })!.passAtMost).toBeNull();
  });

  it('has no span from a pressure to itself', () => {
    expect(buildupOverSpan({ fromPsi: 85, toPsi: 100, seconds: 30 }, { fromPsi: 90, toPsi: 90 })).toBeNull();
  });
});
