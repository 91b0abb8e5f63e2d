import type { Worksheet } from 'exceljs';
import type { BaselineComparison, DifferenceWord, RateDifference } from '../../fleet/baseline-comparison.js';
import { columnLetters } from '../../util/column-letters.js';
import { styleCell, type CellLook } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import { writeHeader, writeRow } from '../write-table.js';
import { BASELINE_CHART_DATA, BASELINE_COLUMNS, NOW } from './baseline-columns.js';

/** The headings over the rates of each group. */
export const BASELINE_RATE_HEADINGS: readonly (readonly [RateDifference['group'], string])[] = [
  ['all', 'All inspections'],
  ['check', 'By check'],
  ['site', 'By site (whole inspections)'],
  ['vehicle_kind', 'By kind of vehicle (whole inspections)'],
];
/** The index of the first column of the chart's data. */
export const BASELINE_DATA_FROM = BASELINE_COLUMNS.length + 1;

/** How the words of a difference look; the word itself carries the meaning. */
export const VERDICT_LOOKS: Partial<Record<DifferenceWord, CellLook>> = { better: { ...PALETTE.pass, bold: true }, worse: { ...PALETTE.fail, bold: true } };

/** The letters of a column of the table of rates, or of the chart's data. */
export function baselineLetters(id: string): string {
  const index = BASELINE_COLUMNS.findIndex((column) => column.id === id);
  return columnLetters(index >= 0 ? index : BASELINE_DATA_FROM + BASELINE_CHART_DATA.findIndex((column) => column.id === id));
}

/** Writes the titles of the table of rates; the headings of the two sides stand in the row above. */
export function writeBaselineRatesHeader(sheet: Worksheet, row: number): void {
  for (const [columns, from] of [[BASELINE_COLUMNS, 0], [BASELINE_CHART_DATA, BASELINE_DATA_FROM]] as const) {
    columns.forEach(({ group }, index) => {
      const cell = sheet.getCell(row - 1, from + index + 1);
      if (group !== columns[index - 1]?.group) cell.value = group || null;
      styleCell(cell, { ...(group === NOW ? PALETTE.bandOther : PALETTE.band), bold: true });
    });
    writeHeader(sheet, row, columns, from);
  }
  sheet.getRow(row).height = 40;
}

/**
 * Writes the rates then and now, group by group.
 *
 * @returns the last row, and the first with a check
 */
export function writeBaselineRates(sheet: Worksheet, from: number, { rates }: BaselineComparison): { readonly lastRow: number; readonly checksRow: number } {
  let [row, checksRow] = [from, from];
  for (const [group, heading] of BASELINE_RATE_HEADINGS) {
    const listed = rates.filter((rate) => rate.group === group);
    band(sheet, row, heading);
    row += 1;
    if (group === 'check') checksRow = row;
    for (const rate of listed) {
      writeRow(sheet, row, BASELINE_COLUMNS, BASELINE_COLUMNS.map(({ value }) => value(rate)));
      writeRow(sheet, row, BASELINE_CHART_DATA, BASELINE_CHART_DATA.map(({ value }) => value(rate)), BASELINE_DATA_FROM);
      styleCell(sheet.getCell(`${baselineLetters('verdict')}${row}`), { line: true, top: true, centre: true, ...VERDICT_LOOKS[rate.verdict] });
      sheet.getRow(row).height = 3 + 13 * Math.ceil(rate.name.length / 38);
      row += 1;
    }
    if (listed.length > 0) continue;
    writeRow(sheet, row, BASELINE_COLUMNS, ['none entered on either side']);
    row += 1;
  }
  return { lastRow: row - 1, checksRow };
}

function band(sheet: Worksheet, row: number, words: string): void {
  for (let column = 1; column <= BASELINE_COLUMNS.length; column++) styleCell(sheet.getCell(row, column), { ...PALETTE.band, bold: true });
  sheet.getCell(row, 1).value = words;
}
