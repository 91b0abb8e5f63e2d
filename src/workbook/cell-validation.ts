import type { DataValidation, Worksheet } from 'exceljs';
import type { Field } from '../readings/field.js';

/** exceljs keeps its range validations in a member that its types leave out. */
interface WithValidations {
  readonly dataValidations: { add(range: string, validation: DataValidation): void };
}

/** A date that may be typed. */
export const DATE_VALIDATION: DataValidation = { type: 'date', operator: 'between', formulae: [new Date(Date.UTC(1980, 0, 1)), new Date(Date.UTC(2199, 11, 31))], allowBlank: true, error: 'A date, such as 2026-03-14.' };

/** Checks what is typed into a range of cells. */
export function validateCells(sheet: Worksheet, range: string, validation: DataValidation): void {
  (sheet as unknown as WithValidations).dataValidations.add(range, { allowBlank: true, showErrorMessage: true, errorStyle: 'stop', ...validation });
}

/** Checks what is typed into the entry column of a field, and says beside the cell what belongs there. */
export function validateEntries(sheet: Worksheet, range: string, field: Field, validation: DataValidation): void {
  const title = field.title.slice(0, 32);
  validateCells(sheet, range, { ...validation, showInputMessage: true, promptTitle: title, prompt: field.help.slice(0, 255), errorTitle: title });
}
