import { expect, test } from 'vitest';
import { dateFormatKind } from '../../src/readings/date-format-kind.js';

const DATE = { date: true, time: false, seconds: false, clock: false };
const TIME = { date: false, time: true, seconds: false, clock: false };
const SECONDS = { ...TIME, seconds: true };

test.each([
  ['yyyy-mm-dd', DATE],
  ['d/m/yy', DATE],
  ['mmm', DATE],
  ['mm', DATE],
  ['[$-409]d\\-mmm\\-yy;@', DATE],
  ['yyyy"年"m"月"d"日"', DATE],
  ['h:mm', TIME],
  ['[h]:mm', TIME],
  ['hh:mm;@', TIME],
  ['[$-F400]h:mm', TIME],
  ['h:mm AM/PM', { ...TIME, clock: true }],
  ['h:mm A/P', { ...TIME, clock: true }],
  ['[mm]', TIME],
  ['[hh]:mm', TIME],
  ['[hh]', TIME],
  ['"days" 0', { ...TIME, time: false }],
  ['0 "hours and days"', { ...TIME, time: false }],
  ['h"d"mm', TIME],
  ['h:mm:ss', SECONDS],
  ['mm:ss', SECONDS],
  ['mm:ss.0', SECONDS],
  ['[h]:mm:ss', SECONDS],
  ['[ss]', SECONDS],
  ['[Red]h:mm', TIME],
  ['h:mm:ss AM/PM', { ...SECONDS, clock: true }],
  ['d/m/yyyy h:mm', { ...DATE, time: true }],
  ['yyyy-mm-dd hh:mm:ss', { ...DATE, time: true, seconds: true }],
  ['General', { date: false, time: false, seconds: false, clock: false }],
  ['', { date: false, time: false, seconds: false, clock: false }],
])('%s', (format, kind) => {
  expect(dateFormatKind(format)).toStrictEqual(kind);
});
