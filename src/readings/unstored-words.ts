/** What is found where a program that computes nothing wrote a formula. */
export const UNSTORED = 'a formula without a stored value';
/** What to do about it. */
export const UNSTORED_MEND = 'a value; open the workbook in a spreadsheet program and save it, so that its formulas are computed';
