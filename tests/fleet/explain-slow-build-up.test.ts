import { describe, expect, it } from 'vitest';
import { explainSlowBuildUp, type UnitBuildup } from '../../src/fleet/explain-slow-build-up.js';

const GOOD: UnitBuildup = { on: '2026-01-05', fromPsi: 85, toPsi: 100, seconds: 30, lossPsiPerMin: 0, rpm: 1200, readablePsi: 1 };
const slow = (parts: Partial<UnitBuildup> = {}): UnitBuildup => ({ ...GOOD, on: '2026-03-14', seconds: 45, lossPsiPerMin: 6, ...parts });
const FACTS = 'Build-up brought to 85 to 100 psi took 45 s on 2026-03-14, and 30 s on 2026-01-05: ';

describe('a build-up that has become slow', () => {
  // Conservation of air: 30 psi a minute were raised and 20 are, so ten are lost; a leak of six more is 60 % of that.
  it('is said to be the leak as far as the leak explains it', () => {
    expect(explainSlowBuildUp(GOOD, slow())).toBe(`${FACTS}the leak explains 60 % of the slow build-up; mend it first, then time again.`);
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 10 }))).toBe(`${FACTS}the leak explains all of the slow build-up; mend it first, then time again.`);
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 30 }))).toContain('explains all of');
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 3 }))).toBe(`${FACTS}the leak explains only 30 % of the slow build-up; look at the compressor, its drive and its intake as well.`);
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 0.5 }))).toBe(`${FACTS}the leak does not explain the slow build-up; look at the compressor, its drive and its intake.`);
    expect(explainSlowBuildUp({ ...GOOD, lossPsiPerMin: 6 }, slow())).toContain('the leak does not explain');
  });

  it('asks for the leak where none was measured', () => {
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: null }))).toBe(`${FACTS}no leak test that counts was made with it; test for a leak before the compressor is blamed.`);
  });

  it('says what the leak explains at most where none was measured on the earlier day', () => {
    const unknown = { ...GOOD, lossPsiPerMin: null };
    expect(explainSlowBuildUp(unknown, slow())).toBe(`${FACTS}the leak may explain up to 60 % of the slow build-up (no leak test that counts on 2026-01-05); mend it first, then time again.`);
    expect(explainSlowBuildUp(unknown, slow({ lossPsiPerMin: 3 }))).toBe(`${FACTS}the leak may explain up to 30 % of the slow build-up (no leak test that counts on 2026-01-05); look at the compressor, its drive and its intake as well.`);
    expect(explainSlowBuildUp(unknown, slow({ lossPsiPerMin: 12 }))).toContain('the leak may explain all of the slow build-up (no leak test that counts');
    expect(explainSlowBuildUp(unknown, slow({ lossPsiPerMin: 0.5 }))).toBe(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 0.5 })));
  });

  it('compares tests with other ends over one span', () => {
    // 60 to 120 psi in 180 s is 20 psi a minute, and 45 s over 15 psi.
    expect(explainSlowBuildUp(GOOD, slow({ fromPsi: 60, toPsi: 120, seconds: 180 }))).toBe(explainSlowBuildUp(GOOD, slow()));
  });

  it('is not one while the gauge cannot tell, or it is no slower', () => {
    // JCGM: two gauges read to 3 psi may each miss the rise by 2.0145 psi; over 15 psi in half a minute that is 4 psi a minute.
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: 3 }, slow({ seconds: 36, readablePsi: 3 }))).toBeNull();
    expect(explainSlowBuildUp(GOOD, slow({ seconds: 36 }))).not.toBeNull();
    // A fine gauge makes no slow build-up of less than a tenth: engine speeds compare no closer.
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: 0.1 }, slow({ seconds: 33, readablePsi: 0.1 }))).toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: 0.1 }, slow({ seconds: 34, readablePsi: 0.1 }))).not.toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: null }, slow({ seconds: 33 }))).toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: null }, slow({ seconds: 34 }))).not.toBeNull();
    expect(explainSlowBuildUp(GOOD, slow({ seconds: 30 }))).toBeNull();
    expect(explainSlowBuildUp(GOOD, slow({ seconds: 20 }))).toBeNull();
  });

  it('does not compare other engine speeds, nor a test without a rise', () => {
    expect(explainSlowBuildUp(GOOD, slow({ rpm: 700 }))).toBeNull();
    expect(explainSlowBuildUp(GOOD, slow({ rpm: 1150 }))).not.toBeNull();
    expect(explainSlowBuildUp(GOOD, slow({ rpm: null }))).not.toBeNull();
    for (const broken of [slow({ toPsi: 85 }), slow({ seconds: 0 }), slow({ seconds: NaN }), slow({ fromPsi: -1 })]) expect(explainSlowBuildUp(GOOD, broken)).toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, toPsi: 80 }, slow())).toBeNull();
  });

  it('has the bounds of its words on the side of the leak', () => {
    // Ten psi a minute are lost: half of it is 5, a tenth 1, and from 9.75 on it is all.
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 5 }))).toBe(`${FACTS}the leak explains 50 % of the slow build-up; mend it first, then time again.`);
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 1 }))).toBe(`${FACTS}the leak explains only 10 % of the slow build-up; look at the compressor, its drive and its intake as well.`);
    expect(explainSlowBuildUp(GOOD, slow({ lossPsiPerMin: 9.75 }))).toContain('the leak explains all of');
    const unknown = { ...GOOD, lossPsiPerMin: null };
    expect(explainSlowBuildUp(unknown, slow({ lossPsiPerMin: 5 }))).toContain('may explain up to 50 % of the slow build-up (no leak test that counts on 2026-01-05); mend it first');
    expect(explainSlowBuildUp(unknown, slow({ lossPsiPerMin: 1 }))).toContain('may explain up to 10 %');
    expect(explainSlowBuildUp(unknown, slow({ lossPsiPerMin: 9.75 }))).toContain('may explain all of');
  });

  it('takes one gauge alone for no reason to doubt', () => {
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: null }, slow({ readablePsi: 30 }))).not.toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: 30 }, slow({ readablePsi: null }))).not.toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, readablePsi: 30 }, slow({ readablePsi: 30 }))).toBeNull();
  });

  it('compares engine speeds that differ by a tenth of the higher, and one that was not written down', () => {
    expect(explainSlowBuildUp(GOOD, slow({ rpm: 1080 }))).not.toBeNull();
    expect(explainSlowBuildUp(GOOD, slow({ rpm: 1079 }))).toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, rpm: 1080 }, slow())).not.toBeNull();
    expect(explainSlowBuildUp({ ...GOOD, rpm: null }, slow())).not.toBeNull();
  });
});
