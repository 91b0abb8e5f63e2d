/** What a spreadsheet's number format shows. */
export interface DateFormatKind {
  /** A day, a month or a year. */
  readonly date: boolean;
  /** A time of day or an elapsed time. */
  readonly time: boolean;
  /** Seconds. */
  readonly seconds: boolean;
  /** A twelve-hour clock. */
  readonly clock: boolean;
}

/**
 * Tells what a number format shows, from its code. An `m` is a month unless hours or seconds stand in the same code.
 *
 * @param format a format code, such as `h:mm`, `[h]:mm:ss` or `yyyy-mm-dd`
 *
 * @example
 * dateFormatKind('mm:ss.0') // { date: false, time: true, seconds: true, clock: false }
 */
export function dateFormatKind(format: string): DateFormatKind {
  const codes = format
    .toLowerCase()
    .replace(/"[^"]*"|[\\_*]./gsu, '')
    .replace(/\[(h+|m+|s+)\]/gu, (_, elapsed: string) => `${elapsed}!`)
    .replace(/\[[^\]]*\]/gu, '');
  const clock = /am\/pm|a\/p/u.test(codes);
  const shown = codes.replace(/am\/pm|a\/p/gu, '').split(';', 1)[0] ?? '';
  const seconds = shown.includes('s');
  const time = seconds || shown.includes('h') || shown.includes('m!');
  const date = /[yd]|mmm/u.test(shown) || (shown.includes('m') && !time);
  return { date, time, seconds, clock };
}
