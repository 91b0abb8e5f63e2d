import { expect, it } from 'vitest';
import { dateTimeText } from '../../src/readings/date-time-text.js';

// Serial 46095 is 2026-03-14 and day 0.5 is noon (ECMA-376 Part 1, 18.17.4).
it.each([
  [46095, 'yyyy-mm-dd', '2026-03-14'],
  [46095, 'dd/mm/yyyy hh:mm', '2026-03-14 00:00'],
  [46095.322916666664, 'm/d/yy h:mm', '2026-03-14 07:45'],
  [46095.5, 'yyyy-mm-dd', '2026-03-14 12:00'],
  [46095.99999999, 'yyyy-mm-dd', '2026-03-15'],
  [0.5, 'h:mm', '12:00'],
  [250 / 1440, 'h:mm', '4:10'],
  [250 / 86_400, 'h:mm:ss', '0:04:10'],
  [1.5, '[h]:mm', '36:00'],
  [0, 'h:mm', '0:00'],
  [60, 'yyyy-mm-dd', null], // 29 February 1900 never was
  [-1, 'h:mm', null],
  [5, '0.00', null],
  [3e6, 'yyyy-mm-dd', null],
])('%f in the format %s shows %s', (value, format, text) => {
  expect(dateTimeText({ value, format })).toBe(text);
});

it('counts from 1904 where the workbook does', () => {
  expect(dateTimeText({ value: 44633, format: 'yyyy-mm-dd' }, true)).toBe('2026-03-14');
});
