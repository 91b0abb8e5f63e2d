/**
 * A reference to a range of a sheet, with the sheet's name quoted.
 *
 * @param range such as `$A$2:$A$9`
 * @example sheetReference("Driver's test", '$B$4') // "'Driver''s test'!$B$4"
 */
export function sheetReference(sheet: string, range: string): string {
  return `'${sheet.replaceAll("'", "''")}'!${range}`;
}

/**
 * A sheet's name as a reference has it: in quotes where it needs them.
 *
 * @example quotedSheet('Readings 2') // "'Readings 2'"
 */
export function quotedSheet(sheet: string): string {
  return /^[A-Za-z_]+$/.test(sheet) ? sheet : `'${sheet.replaceAll("'", "''")}'`;
}
