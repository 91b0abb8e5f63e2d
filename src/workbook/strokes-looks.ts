import type { DataValidation, Worksheet } from 'exceljs';
import type { Field } from '../readings/field.js';
import { LONGEST_STROKE_IN } from '../strokes/stroke-words.js';
import { colourVerdicts, colourWhere, type CellLook } from './cell-styles.js';
import { DATE_VALIDATION, validateEntries } from './cell-validation.js';
import { PALETTE } from './palette.js';
import type { StrokesLayout, StrokesSheetColumn } from './strokes-layout.js';

/** The width of a column. */
export function strokesWidth(column: StrokesSheetColumn): number {
  switch (column.part) {
    case 'entry':
      return column.field.width;
    case 'computed':
      return column.column.width;
    case 'gap':
      return 3;
    case 'extra':
      return 12;
    case 'as_found':
      return 24;
  }
}

/** How the cells of a column look. */
export function strokesLook(column: StrokesSheetColumn): CellLook {
  if (column.part === 'computed') return column.column.look;
  const entry: CellLook = { line: true, unlocked: true };
  if (column.part !== 'entry') return column.part === 'as_found' ? { ...entry, size: 8 } : entry;
  switch (column.field.kind) {
    case 'date':
      return { ...entry, format: 'yyyy-mm-dd', centre: true };
    case 'quantity':
      return { ...entry, format: '0.###', right: true };
    case 'choice':
      return { ...entry, centre: true };
    default:
      return column.name === 'chamber_size' ? { ...entry, format: 'General', centre: true } : { ...entry, format: '@' };
  }
}

/** Checks what is typed into an entry column. A size or a stroke that is not in the tables may be typed after a warning. */
export function validateStrokes(sheet: Worksheet, field: Field, first: string, last: string): void {
  validateEntries(sheet, `${first}:${last}`, field, validationOf(field, first));
}

function validationOf(field: Field, at: string): DataValidation {
  switch (field.kind) {
    case 'choice':
      return { type: 'list', formulae: [`"${field.choices!.join(',')}"`], error: `One of ${field.choices!.join(', ')}.` };
    case 'date':
      return DATE_VALIDATION;
    case 'quantity':
      return { type: 'custom', formulae: [`AND(ISNUMBER(${at}),${at}>=0)`], error: `A number, such as 1.75: inches up to ${LONGEST_STROKE_IN}, or millimetres with the unit mm.` };
    default:
      if (field.name === 'chamber_size') return { type: 'list', formulae: ['"6,9,12,16,20,24,30,36,50,A,B,C,D,E,F,G"'], errorStyle: 'warning', error: 'Not in the table of limits: the rated stroke marked on the chamber is needed as well.' };
      return { type: 'textLength', operator: 'lessThan', formulae: [201], error: 'At most 200 characters.' };
  }
}

/** Colours that repeat what the words say, and lines around the rows of the other tables that hold something. */
export function markStrokes(sheet: Worksheet, layout: StrokesLayout, lastRow: number): void {
  const { lettersOf, spanOf, firstRow } = layout;
  const area = (from: string, to: string): string => `${from}${firstRow}:${to}${lastRow}`;
  const verdict = lettersOf('verdict');
  colourVerdicts(sheet, area(verdict, verdict));
  const share = `$${lettersOf('vehicle_share')}${firstRow}`;
  const defective = `$${lettersOf('vehicle_defective')}${firstRow}`;
  sheet.addConditionalFormatting({
    ref: area(lettersOf('vehicle_share'), lettersOf('vehicle_words')),
    rules: [colourWhere(`AND(ISNUMBER(${share}),ROUND(N(${share}),6)>=stroke_rule_out_of_service_share)`, PALETTE.fail, 20), colourWhere(`N(${defective})>0`, PALETTE.recheck, 21)],
  });
  const side = { style: 'hair' as const, color: { argb: PALETTE.line } };
  for (const [index, block] of (['vehicles', 'positions', 'limits'] as const).entries()) {
    const { first, last } = spanOf(block);
    const named = block === 'vehicles' ? lettersOf('vehicle_measured') : first;
    sheet.addConditionalFormatting({ ref: area(first, last), rules: [{ type: 'expression', priority: 30 + index, formulae: [`$${named}${firstRow}<>""`], style: { border: { top: side, bottom: side, left: side, right: side } } }] });
  }
}
