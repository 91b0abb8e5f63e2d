import { describe, expect, it } from 'vitest';
import { evaluateStrokes } from '../../src/strokes/evaluate-strokes.js';
import { strokeLimits } from '../../src/strokes/stroke-limits.js';
import { strokeNumbers } from '../../src/strokes/stroke-numbers.js';
import type { StrokeEntries } from '../../src/strokes/stroke.js';
import { LISTED, listed } from './listed-chambers.js';

type Row = Partial<StrokeEntries>;

const one = (row: Row): ReturnType<typeof evaluateStrokes>['chambers'][number] => evaluateStrokes([{ unit: 'T1', inspected_on: '2026-03-14', position: '1L', ...row }]).chambers[0]!;
const SIXTY_FOURTH = 1 / 64;

describe('the table of limits', () => {
  it('holds every chamber that the rule lists, and no other', () => {
    expect(strokeLimits().limits.map(({ chamber, limit, limit_mm: mm, diameter, status }) => [chamber, limit, mm, diameter, status])).toStrictEqual(LISTED.map(({ chamber, inches, mm, diameter, status }) => [chamber, inches, mm, diameter, status]));
  });

  it('has a metric figure beside each limit that is the inch to a tenth of a millimetre', () => {
    for (const { chamber, limit, limit_mm: mm } of strokeLimits().limits) expect([chamber, Math.abs(limit * 25.4 - mm) <= 0.05 + 1e-9]).toStrictEqual([chamber, true]);
  });
});

// 49 CFR 393.47(e)(1): a stroke "must not be greater than" the limit.
describe.each(LISTED.map((line) => [line.chamber, line] as const))('%s', (_, line) => {
  const row = listed(line);

  it('passes at the limit and fails 1/64 in past it', () => {
    expect([one({ ...row, stroke: line.inches }), one({ ...row, stroke: line.inches + SIXTY_FOURTH })].map(({ verdict, limit_in: limit }) => [verdict, limit])).toStrictEqual([['pass', line.inches], ['fail', line.inches]]);
    expect(one({ ...row, stroke: line.inches - SIXTY_FOURTH }).reason).not.toContain('exactly at the limit');
    expect(one({ ...row, stroke: line.inches }).reason).toContain('exactly at the limit');
  });

  it('compares millimetres in inches', () => {
    const mm = Number((line.inches * 25.4).toFixed(3));
    expect([mm, mm + 0.1].map((stroke) => one({ ...row, stroke, stroke_unit: 'mm' }).verdict)).toStrictEqual(['pass', 'fail']);
    // Where the printed metric figure is rounded up, it lies past the limit in inches, and the reason says so.
    const printed = one({ ...row, stroke: line.mm, stroke_unit: 'mm' });
    const beyond = line.mm > line.inches * 25.4 + 1e-6;
    expect([printed.verdict, printed.reason.includes('the printed metric figure')]).toStrictEqual(beyond ? ['fail', true] : ['pass', false]);
  });

  it('counts one defective brake from 1/4 in past the limit, and half below that', () => {
    expect([0, SIXTY_FOURTH, 0.25 - SIXTY_FOURTH, 0.25].map((past) => one({ ...row, stroke: line.inches + past }).defective)).toStrictEqual([0, 0.5, 0.5, 1]);
  });
});

describe('a chamber', () => {
  it('is a standard clamp type where nothing else is said, and a bolt type where its size is a letter', () => {
    expect([one({ chamber_size: '30', stroke: 1 }), one({ chamber_size: 'b', stroke: 1 })].map(({ chamber, limit_in }) => [chamber, limit_in])).toStrictEqual([['clamp 30 standard', 2], ['bolt b standard', 1.75]]);
  });

  // Limits of 2 in at 2-1/2 in rated stroke and 2-1/2 in at 3 in (49 CFR 393.47(e), clamp 20 and 24).
  it.each(['20', '24'])('of size %s with a long stroke has two limits until its rated stroke is told', (chamber_size) => {
    const row = { chamber_size, stroke_kind: 'long' };
    const verdicts = (more: Row): unknown => [2, 2.25, 2.5, 2.75].map((stroke) => one({ ...row, stroke, ...more }).verdict);
    expect(verdicts({})).toStrictEqual(['pass', 'recheck', 'recheck', 'fail']);
    expect(verdicts({ rated_stroke: 2.5 })).toStrictEqual(['pass', 'fail', 'fail', 'fail']);
    expect(verdicts({ rated_stroke: 3 })).toStrictEqual(['pass', 'pass', 'pass', 'fail']);
    expect(one({ ...row, stroke: 57.15, stroke_unit: 'mm', rated_stroke: 76.2 }).verdict).toBe('pass');
    expect(one({ ...row, stroke: 2.25 }).reason).toBe(`2.25 in is between the limits of clamp ${chamber_size} long: 2 in with a rated stroke of 2-1/2 in, 2.5 in with one of 3 in; choose the stroke kind`);
  });

  // 49 CFR 393.47(e)(2): 80 % of the marked rated stroke. 0.8 x 2.5 = 2.
  it('that is not listed is held against 80 % of its rated stroke, or not tested', () => {
    const row = { chamber_size: '14', rated_stroke: 2.5 };
    expect([2, 2 + SIXTY_FOURTH].map((stroke) => one({ ...row, stroke })).map(({ verdict, limit_in, status }) => [verdict, limit_in, status])).toStrictEqual([['pass', 2, 'secondary'], ['fail', 2, 'secondary']]);
    expect(one({ ...row, stroke: 50.8, rated_stroke: 63.5, stroke_unit: 'mm' }).verdict).toBe('pass');
    const without = one({ chamber_size: '14', stroke: 2 });
    expect([without.verdict, without.reason]).toStrictEqual(['not tested', 'clamp 14 standard is not in the table of limits: write the rated stroke marked on it']);
  });

  it.each<[Row, string, string]>([
    [{ chamber_size: '30' }, 'not tested', 'no stroke entered'],
    [{ chamber_size: '30', stroke: 'worn' }, 'not tested', 'the stroke was not understood: write it as 1.75, or in millimetres with the unit mm'],
    [{ chamber_size: '30', stroke: 44 }, 'not tested', 'the stroke is not between 0 and 5 in: check it and its unit'],
    [{ chamber_size: '30', stroke: -1 }, 'not tested', 'the stroke is not between 0 and 5 in: check it and its unit'],
    [{ chamber_size: '30', stroke: 1, stroke_unit: 'cm' }, 'not tested', 'the stroke unit is neither in nor mm'],
    [{ stroke: 1 }, 'not tested', 'no chamber size entered'],
    [{ chamber_size: '30', stroke: 0 }, 'recheck', 'the pushrod did not move: find out whether this brake works, and measure again'],
    [{ chamber_size: '30L', stroke: 1, stroke_kind: 'standard' }, 'not tested', 'clamp 30L standard is not in the table of limits: write the rated stroke marked on it'],
  ])('%j is %s', (row, verdict, reason) => {
    const result = one(row);
    expect([result.verdict, result.reason, result.defective]).toStrictEqual([verdict, reason, verdict === 'recheck' ? 0 : null]);
  });

  it('is held against other numbers, given them', () => {
    const shipped = strokeNumbers();
    const other = { ...shipped, limits: shipped.limits.map((line) => (line.chamber === 'clamp 30 standard' ? { ...line, limit: 1.5 } : line)) };
    expect(evaluateStrokes([{ chamber_size: '30', stroke: 1.75 }], other).chambers[0]).toMatchObject({ verdict: 'fail', limit_in: 1.5, excess_in: 0.25, defective: 1 });
    const none = { ...shipped, limits: shipped.limits.map((line) => ({ ...line, limit: null })) };
    expect(evaluateStrokes([{ chamber_size: '30', stroke: 1.75 }], none).chambers[0]!.verdict).toBe('not tested');
  });

  it('gives nothing for a row without an entry', () => {
    expect(evaluateStrokes([{}])).toMatchObject({ chambers: [{ verdict: null, reason: '' }], vehicles: [], positions: [] });
  });
});

describe('an axle', () => {
  const stroke = (position: string, length: number | null, more: Row = {}): Row => ({ unit: 'T1', inspected_on: '2026-03-14', position, chamber_size: '30', stroke: length, ...more });

  it('shows the difference of left and right, each measured once', () => {
    const rows = [stroke('1L', 1.25), stroke('1R', 1.5), stroke('2L inner', 1.75), stroke('2R inner', 47.625, { stroke_unit: 'mm' }), stroke('2L outer', 1), stroke('3L', 1), stroke('4L', 1), stroke('4R', 1, { unit: 'T2' }), stroke('5L', null), stroke('5R', 1), stroke('7', 1)];
    // 47.625 mm = 1.875 in.
    expect(evaluateStrokes(rows).chambers.map(({ across_axle_in }) => across_axle_in)).toStrictEqual([0.25, 0.25, 0.125, 0.125, null, null, null, null, null, null, null]);
  });

  it('shows none where a brake stands twice, and says that it does', () => {
    const { chambers } = evaluateStrokes([stroke('1L', 1), stroke('1l', 1.25), stroke('1R', 1)]);
    expect(chambers.map(({ across_axle_in, twice }) => [across_axle_in, twice])).toStrictEqual([[null, true], [null, true], [null, false]]);
    expect(chambers[0]!.reason).toBe('1 in of the 2 in allowed (clamp 30 standard); this position stands twice');
  });
});

describe('a vehicle', () => {
  const TEN = Array.from({ length: 10 }, (_, index): Row => ({ unit: 'T1', inspected_on: '2026-03-14', position: `${Math.floor(index / 2) + 1}${index % 2 === 0 ? 'L' : 'R'}`, chamber_size: '30', stroke: 1.5 }));
  const vehicle = (...strokes: number[]) => evaluateStrokes(TEN.map((row, index) => ({ ...row, stroke: strokes[index] ?? 1.5 }))).vehicles;

  // CVSA North American Standard Out-of-Service Criteria (from memory): 10 brakes, 2 past by 1/4 in: 20 % is reached;
  // 1 past by 1/4 in and 1 by 1/8 in: 15 %, not reached.
  it('reaches 20 % with 2 of 10 brakes past by 1/4 in, and not with one by 1/4 in and one by 1/8 in', () => {
    expect(vehicle(2.25, 2.25)).toMatchObject([{ measured: 10, past_whole: 2, past_half: 0, defective: 2, defective_share: 0.2, words: "out of service by CVSA's general rule: its share of brakes is reached" }]);
    expect(vehicle(2.25, 2.125)).toMatchObject([{ measured: 10, past_whole: 1, past_half: 1, defective: 1.5, defective_share: 0.15, words: 'past the limit: parked until it is adjusted or repaired' }]);
    expect(vehicle()).toMatchObject([{ defective: 0, defective_share: 0, words: 'no stroke past its limit' }]);
  });

  it('counts by unit, date and inspection, without regard to case, and says what is not decided', () => {
    const rows: Row[] = [
      { unit: 'T1', inspected_on: '2026-03-14', position: '1L', chamber_size: '30', stroke: 2.5 },
      { unit: 't1', inspected_on: '2026-03-14', position: '1R', chamber_size: '30', stroke: null },
      { unit: 'T1', inspected_on: '2026-03-15', position: '1L', chamber_size: '30', stroke: 0 },
      { unit: 'T1', inspected_on: '2026-03-14', inspection_id: 'A-1', position: '1L', chamber_size: '30', stroke: null },
      { unit: 'T*', inspected_on: '2026-03-14', position: '1L', chamber_size: '30', stroke: 1 },
      { position: '1L', chamber_size: '30', stroke: 1 },
    ];
    expect(evaluateStrokes(rows).vehicles.map(({ unit, inspected_on: on, inspection_id: id, measured, recheck, not_tested: not, words }) => [unit, on, id, measured, recheck, not, words])).toStrictEqual([
      ['T1', '2026-03-14', null, 1, 0, 1, "out of service by CVSA's general rule: its share of brakes is reached; 1 not decided"],
      ['T1', '2026-03-15', null, 1, 1, 0, 'no stroke past its limit; 1 not decided'],
      ['T1', '2026-03-14', 'A-1', 0, 0, 1, 'no stroke measured'],
      ['T*', '2026-03-14', null, 1, 0, 0, 'no stroke past its limit'],
    ]);
  });
});

describe('a position', () => {
  // Newcombe, Statistics in Medicine 17 (1998), table I: 81 of 263 gives 0.2553 to 0.3662 by Wilson's method.
  it('has its fail rate with the Wilson interval', () => {
    const rows = Array.from({ length: 263 }, (_, index): Row => ({ unit: `T${index}`, position: index === 0 ? '2l' : '2L', chamber_size: '30', stroke: index < 81 ? 2.5 : 1.5 }));
    const [position, ...others] = evaluateStrokes([...rows, { unit: 'T', position: '3R', chamber_size: '30' }]).positions;
    expect(position).toMatchObject({ position: '2l', tested: 263, failed: 81, rate: expect.closeTo(81 / 263, 12) as number, low: expect.closeTo(0.2553, 4) as number, high: expect.closeTo(0.3662, 4) as number });
    expect(others).toStrictEqual([{ position: '3R', tested: 0, failed: 0, rate: null, low: null, high: null }]);
  });
});
