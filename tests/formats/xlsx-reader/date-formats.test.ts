import { expect, it } from 'vitest';
import { dateFormat, isDateCode } from '../../../src/formats/xlsx-reader/date-formats.js';

// Codes and their kinds from ECMA-376 Part 1, 18.8.30 and 18.8.31.
it.each(['mm-dd-yy', 'd-mmm-yy', 'h:mm AM/PM', '[h]:mm:ss', '[mm]:ss', '[ss].0', 'mmss.0', 'yyyy\\-mm\\-dd;@', '[$-409]d/m/yy h:mm', '"on "d', 'm"月"d"日"', '[Red]h:mm', 'YYYY-MM-DD', '[S]'])(
  '%s shows a date or a time',
  (code) => {
    expect(isDateCode(code)).toBe(true);
  },
);

it.each(['General', '0.00', '#,##0 ;[Red](#,##0)', '0.0" psi/min"', '0\\d', '0 "days"', '[Red]0', '[$-409]0', '[$USD] 0', '0_d', '*d0', '0.00E+00', '@', '# ??/??', '', '"unclosed h', '[hm]0', '0;;"m"'])(
  '%s shows none',
  (code) => {
    expect(isDateCode(code)).toBe(false);
  },
);

it('knows the built-in numbers of dates and times', () => {
  const ids = Array.from({ length: 100 }, (_, id) => id).filter((id) => dateFormat(id, undefined) !== null);
  const range = (from: number, to: number): number[] => Array.from({ length: to - from + 1 }, (_, index) => from + index);
  expect(ids).toStrictEqual([...range(14, 22), ...range(27, 36), ...range(45, 47), ...range(50, 58)]);
  expect(dateFormat(20, undefined)).toBe('h:mm');
  expect(dateFormat(22, undefined)).toBe('m/d/yy h:mm');
  expect(dateFormat(46, undefined)).toBe('[h]:mm:ss');
});

it('finds every built-in code a date code itself', () => {
  for (let id = 0; id < 100; id += 1) {
    const code = dateFormat(id, undefined);
    expect(code === null || isDateCode(code)).toBe(true);
  }
});
