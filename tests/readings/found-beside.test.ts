import { expect, test } from 'vitest';
import { readRows } from '../support/read-rows.js';

test('a time in a pressure column is kept with its format, and is not a number when it is read again', async () => {
  const header = ['unit', 'inspected_on', 'cut_in'];
  const { inspections } = await readRows([header, ['T1', '2026-03-14', { value: 250 / 1440, format: 'h:mm' }]]);
  const text = inspections[0]!.asFound.get('cut_in')!;
  expect(text).toBe('4:10 (h:mm)');
  const again = await readRows([header, ['T1', '2026-03-14', text]]);
  expect(again.column('cut_in')).toStrictEqual([null]);
});

test('a number below a header in another unit keeps what was written', async () => {
  const { inspections, column } = await readRows([['unit', 'inspected_on', 'Cut-in (kPa)'], ['T1', '2026-03-14', 700]]);
  expect(inspections[0]!.asFound.get('cut_in')).toBe('700 kPa');
  // 1 kPa = 0.145 037 737 730 209 psi, NIST SP 811 Appendix B.
  expect(column('cut_in')[0]).toBeCloseTo(700 * 0.14503773773020922, 9);
});

test('minutes that cannot be meant keep their unit, and are no seconds below a header without one', async () => {
  // 790 min is no time of a test; 790 s would be one.
  const { inspections, column } = await readRows([['unit', 'inspected_on', 'Released time (min)'], ['T1', '2026-03-14', '790']]);
  expect([column('released_time'), inspections[0]!.asFound.get('released_time')]).toStrictEqual([[null], '790 min']);
  const again = await readRows([['unit', 'inspected_on', 'released_time'], ['T1', '2026-03-14', '790 min']]);
  expect([again.column('released_time'), again.inspections[0]!.asFound.get('released_time')]).toStrictEqual([[null], '790 min']);
});
