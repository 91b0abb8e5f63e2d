import { describe, expect, it } from 'vitest';
import { parseTimeText } from '../../src/readings/parse-time-text.js';

describe('parseTimeText', () => {
  it.each([
    ['0:04:10', 250, false],
    ['1:02:03', 3723, true],
    ['0 h 5 min', 300, false],
    ['1 h', 3600, true],
    ['1.5 h', 5400, true],
    ['1 h 59 min', 7140, true],
    ['4 min 59 s', 299, false],
    ['4:59', 299, false],
    ['90 min', 5400, false],
    ['1.5 min', 90, false],
  ])('%s is %d s', (text, seconds, hours) => {
    expect(parseTimeText(text)).toStrictEqual({ ok: true, value: { seconds, hours }, exact: true });
  });

  it.each(['1:60', '1:00:60', '1:60:00', '1 h 60 min', '4 min 60 s'])('%s has a part of sixty', (text) => {
    expect(parseTimeText(text)).toMatchObject({ ok: false, hint: 'write less than 60 seconds beside minutes, and less than 60 minutes beside hours' });
  });

  it.each(['1.5 h 10 min', '1.5 h 10 s', '1.5 min 10 s'])('%s has decimals above its last part', (text) => {
    expect(parseTimeText(text)).toMatchObject({ ok: false, hint: 'write decimals in the last part only' });
  });

  it('proposes two digits for the seconds', () => {
    expect(parseTimeText('4:5')).toMatchObject({ hint: 'write the seconds with two digits, such as 4:05' });
    expect(parseTimeText(':5')).toMatchObject({ hint: 'write the seconds with two digits, such as 0:05' });
  });

  it('is not exact where a double holds fewer digits than are written', () => {
    expect(parseTimeText('1.00000000000000001 min')).toMatchObject({ ok: true, exact: false });
    expect(parseTimeText('1.00000000000000001 h 1 s').ok).toBe(true);
    expect(parseTimeText('1.00000000000000001 h 1 s')).toMatchObject({ exact: false });
  });
});
