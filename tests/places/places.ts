/** Time zones that part ways: half and quarter hours, both ends of the date line, daylight saving of half an hour, and one that is suspended for a month. */
export const ZONES = ['UTC', 'America/St_Johns', 'America/New_York', 'Pacific/Apia', 'Asia/Kolkata', 'Pacific/Kiritimati', 'Australia/Lord_Howe', 'Africa/Casablanca'] as const;

/** Locales that part ways: decimal marks, digits of their own, and the dotless i. */
export const LOCALES = ['C', 'en_US.UTF-8', 'de_DE.UTF-8', 'tr_TR.UTF-8', 'ar_EG.UTF-8'] as const;

/** The environment of a place. */
export function placeOf(zone: string, locale: string): Record<string, string> {
  return { TZ: zone, LANG: locale, LC_ALL: locale };
}

/** A day after another by so many days, counted without a time zone. */
export function dayAfter(date: string, days: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}
