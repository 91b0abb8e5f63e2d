import { describe, expect, it } from 'vitest';

/** Minutes west of Greenwich on 1 January 2026, by the IANA time zone database, of the zones that the tests are run in. */
const OFFSETS: Readonly<Record<string, number>> = { UTC: 0, 'America/New_York': 300, 'America/St_Johns': 210, 'Pacific/Chatham': -825 };

/** How 1234.5 is written, by the Unicode CLDR, in the locales that the tests are run in. */
const WRITTEN: Readonly<Record<string, string>> = { 'en-US': '1,234.5', 'tr-TR': '1.234,5', 'ar-EG': '١٬٢٣٤٫٥' };

/** The same of any other zone and locale, which a developer's machine may have. */
const offsetOf = (zone: string): number => {
  const [, sign, hours, minutes] = /GMT(?:([+-])(\d\d):(\d\d))?/.exec(new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' }).format(new Date(2026, 0, 1)))!;
  return sign === undefined ? 0 : (sign === '-' ? 1 : -1) * (Number(hours) * 60 + Number(minutes));
};
const writtenIn = (locale: string): string => new Intl.NumberFormat(locale).format(1234.5);

/** What this run was told by its environment; the machine's own where it was told nothing. */
const zone = process.env['TZ'] ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
const told = process.env['LC_ALL'] ?? process.env['LC_MESSAGES'] ?? process.env['LANG'];
const locale = told === undefined || /^(?:C|POSIX)\b/.test(told) ? 'en-US' : told.replace(/[.@].*/, '').replace('_', '-');

describe('the place that a run is told', () => {
  it('is in force: the time zone', () => {
    const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
    expect(timeZone).toBe(zone);
    expect(new Date(2026, 0, 1).getTimezoneOffset()).toBe(OFFSETS[zone] ?? offsetOf(zone));
  });

  it('is in force: the locale', () => {
    expect(Intl.NumberFormat().resolvedOptions().locale).toBe(locale);
    expect((1234.5).toLocaleString()).toBe(WRITTEN[locale] ?? writtenIn(locale));
  });
});
