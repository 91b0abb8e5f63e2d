import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { DataQuality, type DataQuestion } from '../../fleet/data-quality.js';
import { placeOfRow } from '../../util/continued-sheets.js';
import { columnLetters } from '../../util/column-letters.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { problemsListed } from './problems-sheet.js';
import { wrappedHeight, writeHeader, writeTitle, type TableColumn } from '../write-table.js';

/** The sheet's name. */
export const DATA_QUALITY_SHEET = 'Data quality';

const COLUMNS: readonly TableColumn[] = [
  { title: 'What', width: 26 },
  { title: 'About', width: 24 },
  { title: 'Question', width: 100 },
  { title: 'Rows of the input', width: 24 },
];
const FIRST_ROW = 4;

/** Lays out the sheet Data quality: questions for a person about readings that look as if they were not taken. */
export function dataQualitySheet({ book, plan, fleet, mostLines }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(DATA_QUALITY_SHEET, { views: [{ state: 'frozen', ySplit: FIRST_ROW - 1 }] });
  COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  writeTitle(sheet, 'Data quality', 'Questions for a person, with the numbers. Each has innocent answers; none is a finding against anybody. Computed when this workbook was written.', COLUMNS.length);
  sheet.getRow(2).height = 20;
  writeHeader(sheet, FIRST_ROW - 1, COLUMNS);
  COLUMNS.forEach((_, index) => styleCell(sheet.getCell(`${columnLetters(index)}${FIRST_ROW}`), { line: true, wrap: true, top: true }));
  const quality = new DataQuality(plan);
  for (const evaluation of fleet?.evaluations ?? []) quality.add(evaluation);
  const questions = quality.questions();
  const listed = problemsListed(questions.length, mostLines);
  const rows: FillValue[][] = questions.length > 0 ? [...questions.slice(0, listed).map((question) => rowOf(question, fleet!.source.sheet)), ...(listed < questions.length ? [[null, null, `… and ${questions.length - listed} more questions`, null]] : [])] : [[fleet ? 'No questions.' : 'None yet.', null, null, null]];
  sheet.autoFilter = `A${FIRST_ROW - 1}:${columnLetters(COLUMNS.length - 1)}${FIRST_ROW - 1 + rows.length}`;
  setUpPrint(sheet, { titleRows: `1:${FIRST_ROW - 1}` });
  return { fill: { sheet: DATA_QUALITY_SHEET, templateRow: FIRST_ROW, count: rows.length, rows, heightOf: (values) => wrappedHeight(values, COLUMNS) } };
}

function rowOf({ kind, about, question, rows }: DataQuestion, start: string): FillValue[] {
  const places = rows.map((row) => placeOfRow(start, row));
  return [kind, about.slice(0, 200), question, places.map(({ sheet, row }) => (sheet === start ? String(row) : `${row} of ${sheet}`)).join(', ')];
}
