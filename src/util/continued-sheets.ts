/** The rows of a sheet (Microsoft, "Excel specifications and limits"). */
export const ROWS_OF_SHEET = 1_048_576;

/** A row of a sheet. */
export interface RowPlace {
  readonly sheet: string;
  readonly row: number;
}

/**
 * The name of a sheet on which a table goes on that has more rows than one sheet holds.
 *
 * @param part 1 for the sheet that the table begins on
 * @example continuedSheet('Readings', 2) // 'Readings 2'
 */
export function continuedSheet(sheet: string, part: number): string {
  return part === 1 ? sheet : `${sheet} ${part}`;
}

/**
 * Where a row stands. The rows of the sheets on which a table goes on are counted on from the last row that the sheet before could
 * hold, so that every row of the table has a number of its own, in order. A table without a sheet has as many rows as it has.
 *
 * @param row counted from 1
 * @example placeOfRow('Readings', 1_048_580) // { sheet: 'Readings 2', row: 4 }
 */
export function placeOfRow(sheet: string, row: number): RowPlace {
  if (sheet === '' || row <= ROWS_OF_SHEET) return { sheet, row };
  return { sheet: continuedSheet(sheet, Math.floor((row - 1) / ROWS_OF_SHEET) + 1), row: ((row - 1) % ROWS_OF_SHEET) + 1 };
}

/**
 * The number of a row among all rows of its table: the inverse of {@link placeOfRow}.
 *
 * @param sheet the sheet that the table begins on
 * @example countedRow('Readings', { sheet: 'Readings 2', row: 4 }) // 1048580
 */
export function countedRow(sheet: string, place: RowPlace): number {
  const part = place.sheet.startsWith(`${sheet} `) ? Number(place.sheet.slice(sheet.length + 1)) : 1;
  return sheet !== '' && Number.isInteger(part) && part > 1 && continuedSheet(sheet, part) === place.sheet ? (part - 1) * ROWS_OF_SHEET + place.row : place.row;
}

/**
 * A row in words.
 *
 * @example rowWords('Readings', 1_048_580) // 'row 4 of Readings 2'
 */
export function rowWords(sheet: string, row: number): string {
  const place = placeOfRow(sheet, row);
  return place.sheet === sheet ? `row ${place.row}` : `row ${place.row} of ${place.sheet}`;
}
