/** The date and time codes that a workbook may use by number alone (ECMA-376 Part 1, 18.8.30). */
const BUILT_IN = new Map<number, string>([
  [14, 'mm-dd-yy'],
  [15, 'd-mmm-yy'],
  [16, 'd-mmm'],
  [17, 'mmm-yy'],
  [18, 'h:mm AM/PM'],
  [19, 'h:mm:ss AM/PM'],
  [20, 'h:mm'],
  [21, 'h:mm:ss'],
  [22, 'm/d/yy h:mm'],
  [45, 'mm:ss'],
  [46, '[h]:mm:ss'],
  [47, 'mmss.0'],
  // From here on the code depends on the language; these are the ones of zh-cn.
  [27, 'yyyy"年"m"月"'],
  [28, 'm"月"d"日"'],
  [29, 'm"月"d"日"'],
  [30, 'm-d-yy'],
  [31, 'yyyy"年"m"月"d"日"'],
  [32, 'h"时"mm"分"'],
  [33, 'h"时"mm"分"ss"秒"'],
  [34, '上午/下午h"时"mm"分"'],
  [35, '上午/下午h"时"mm"分"ss"秒"'],
  [36, 'yyyy"年"m"月"'],
  [50, 'yyyy"年"m"月"'],
  [51, 'm"月"d"日"'],
  [52, 'yyyy"年"m"月"'],
  [53, 'm"月"d"日"'],
  [54, 'm"月"d"日"'],
  [55, '上午/下午h"时"mm"分"'],
  [56, '上午/下午h"时"mm"分"ss"秒"'],
  [57, 'yyyy"年"m"月"'],
  [58, 'm"月"d"日"'],
]);

/** Quoted and escaped literals, the `_x` of a space and the `*x` of a fill, and what stands in brackets. */
const NOT_A_FIELD = /"[^"]*"?|[\\_*].?|\[[^\]]*\]?/gs;
const ELAPSED = /^\[(?:h+|m+|s+)\]$/i;

/**
 * The format code of a number format, if it shows a date or a time; null if it shows a plain number.
 *
 * @param id the number format's id
 * @param code its code, where the file gives one
 * @example dateFormat(20, undefined) // 'h:mm'
 * @example dateFormat(164, '0.0" psi"') // null
 */
export function dateFormat(id: number, code: string | undefined): string | null {
  if (code === undefined) return BUILT_IN.get(id) ?? null;
  return isDateCode(code) ? code : null;
}

/**
 * Whether a format code shows a date or a time: one of d, m, y, h, s stands in it outside literals and brackets, or
 * an elapsed time such as `[h]` does.
 *
 * @example isDateCode('[Red]#,##0.00 "days"') // false
 * @example isDateCode('[mm]:ss') // true
 */
export function isDateCode(code: string): boolean {
  const fields = code.replace(NOT_A_FIELD, (literal) => (ELAPSED.test(literal) ? 's' : ''));
  return /[dmyhs]/i.test(fields);
}
