import type { DataValidation, Worksheet } from 'exceljs';
import type { DefinedName, FillValue, SheetFill } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { Evaluation } from '../../fleet/evaluation.js';
import { toFormula } from '../../expressions/to-formula.js';
import { PSI_FACTOR } from '../../limits/check-names.js';
import type { ComputedColumn } from '../../limits/computed-column.js';
import { toShown, type ShownIn } from '../../limits/shown-pressure.js';
import type { Field } from '../../readings/field.js';
import { HIGHEST_PLAUSIBLE_PRESSURE } from '../../readings/read-entry.js';
import { AS_FOUND } from '../../readings/table-names.js';
import { columnLetters } from '../../util/column-letters.js';
import { quotedSheet } from '../../formats/xlsx-package/sheet-reference.js';
import { columnRangeName } from '../defined-names.js';
import { colourVerdicts, setUpPrint, styleCell, type CellLook } from '../cell-styles.js';
import { computedCell, entryCell, extraCell, foundCell } from '../cell-values.js';
import { DATE_VALIDATION, validateEntries } from '../cell-validation.js';
import { PALETTE } from '../palette.js';
import type { ReadingsLayout, ReadingsPart, SheetColumn } from '../readings-layout.js';
import { readingsReferences } from '../readings-references.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { workingFormula } from '../working-formulas.js';

export { READINGS_SHEET } from '../readings-layout.js';

const BAND_TITLES = { result: 'Result', checks: 'Checks: verdict, limit, share used, chance within limit', measures: 'Measures', diagnosis: 'Diagnosis, never the verdict', reasons: 'Each check in words', working: 'Working' } as const;
const COMPUTED_FORMATS = { verdict: 'General', share: '0 %', chance: '0.0 %', sentence: 'General', text: 'General' } as const;
const NUMBER_FORMATS = ['0', '0.0', '0.00', '0.000'] as const;
/** The most characters of a list that is offered, and of the words on a refused entry, by Excel's limits. */
const [LONGEST_LIST, LONGEST_ERROR] = [255, 225];
/** Characters of a sentence on one line, by the width of its column, and the height of a line in points. */
const SENTENCE_LINE = { charactersPerWidth: 1.124, points: 12.75 } as const;

/**
 * Lays out the sheet Readings: three header rows and one template row, which the assembler repeats for every inspection. Where there are more
 * inspections than a sheet has rows, they go on in Readings 2, Readings 3 and so on, each laid out alike.
 */
export function readingsSheet(context: SheetContext): SheetParts {
  const { parts } = context.layout;
  const sheets = parts.map((part) => readingsPart(context, part));
  return { definedNames: sheets.flatMap(({ definedNames }) => definedNames), fill: sheets[0]!.fill, continued: sheets.slice(1).map(({ fill }) => fill) };
}

/** Lays out one sheet of readings. */
function readingsPart(context: SheetContext, { sheet: title, part, before, rowCount, lastRow }: ReadingsPart): { readonly definedNames: readonly DefinedName[]; readonly fill: SheetFill } {
  const { book, layout, fleet } = context;
  const sheet = book.addWorksheet(title, { views: [{ state: 'frozen', xSplit: frozenColumns(layout), ySplit: layout.nameRow }] });
  writeColumns(sheet, context, lastRow);
  const named = layout.columns.flatMap((column, index) => (column.part === 'extra' ? [] : [{ name: columnRangeName(nameOf(column), part), letters: columnLetters(index) }]));
  const definedNames = named.map(({ name, letters }): DefinedName => ({ name, reference: `${quotedSheet(title)}!$${letters}$${layout.firstRow}:$${letters}$${lastRow}` }));
  sheet.getRow(1).height = 20;
  sheet.getRow(2).height = 66;
  sheet.getRow(layout.nameRow).height = 34;
  const lastLetters = columnLetters(layout.columns.length - 1);
  sheet.autoFilter = `A${layout.nameRow}:${lastLetters}${lastRow}`;
  setUpPrint(sheet, { titleRows: `1:${layout.nameRow}`, titleColumns: `A:${columnLetters(frozenColumns(layout) - 1)}`, pagesWide: Math.ceil(totalWidth(layout) / 190) });
  sheet.pageSetup.printArea = `A$1:${columnLetters(lastPrinted(layout))}$${lastRow}`;
  void sheet.protect('', { selectLockedCells: true, selectUnlockedCells: true, formatColumns: true, formatRows: true, sort: true, autoFilter: true });
  const rows = fleet ? fleetRows(layout, fleet.evaluations, before, rowCount) : blankRows(layout, rowCount);
  return { definedNames, fill: { sheet: title, templateRow: layout.firstRow, count: rowCount, rows, heightOf: fleet ? heightOf(layout) : undefined } };
}

/** Writes the header rows and the template row. */
function writeColumns(sheet: Worksheet, context: SheetContext, lastRow: number): void {
  const { plan, layout } = context;
  const references = readingsReferences(layout, plan);
  let band = '';
  for (const [index, column] of layout.columns.entries()) {
    const letters = columnLetters(index);
    const thisBand = bandOf(column, context);
    sheet.getColumn(index + 1).width = widthOf(column);
    const own = column.part === 'computed';
    const bandCell = sheet.getCell(`${letters}1`);
    if (thisBand !== band) bandCell.value = thisBand;
    styleCell(bandCell, { ...(own ? PALETTE.bandOther : PALETTE.band), bold: true });
    band = thisBand;
    const title = sheet.getCell(`${letters}2`);
    title.value = titleOf(column);
    styleCell(title, { size: 9, ...(own ? PALETTE.computedHeader : PALETTE.header), bold: true, wrap: true, centre: true, line: true });
    const name = sheet.getCell(`${letters}${layout.nameRow}`);
    name.value = nameOf(column);
    styleCell(name, { ...PALETTE.name, size: 8, wrap: true, top: true, line: true });
    const template = sheet.getCell(`${letters}${layout.firstRow}`);
    styleCell(template, lookOf(column));
    if (column.part === 'computed') {
      template.value = { formula: workingFormula(column.column.id, layout, plan.dictionary) ?? toFormula(column.column.tree!, references, `column ${column.column.name}`), result: 0 };
      if (column.column.format === 'verdict') colourVerdicts(sheet, `${letters}${layout.firstRow}:${letters}${lastRow}`);
    } else {
      template.value = null;
    }
    if (column.part === 'entry') validate(sheet, column.field, letters, context, lastRow);
  }
}

function* fleetRows(layout: ReadingsLayout, evaluations: readonly Evaluation[], before: number, count: number): Generator<FillValue[]> {
  for (let position = before; position < before + count && position < evaluations.length; position++) yield rowOf(layout, evaluations[position]!);
}

/** The height that the wrapped sentences need: the reason, and where to look first. */
function heightOf(layout: ReadingsLayout): (values: readonly FillValue[]) => number {
  const sentences = layout.columns.flatMap((column, at) => (isWrapped(column) ? [{ at, characters: Math.floor(widthOf(column) * SENTENCE_LINE.charactersPerWidth) }] : []));
  return (values) => {
    const lines = sentences.map(({ at, characters }) => {
      const sentence = values[at];
      return typeof sentence === 'string' ? Math.ceil(sentence.length / characters) : 1;
    });
    return 3 + SENTENCE_LINE.points * Math.max(1, ...lines);
  };
}

function isWrapped(column: SheetColumn): boolean {
  return column.part === 'computed' && column.column.format === 'sentence' && column.column.band === 'result';
}

function* blankRows(layout: ReadingsLayout, count: number): Generator<FillValue[]> {
  const row = layout.columns.map((): FillValue => null);
  for (let done = 0; done < count; done++) yield row;
}

/** The cells of one inspection, from the left. */
export function rowOf(layout: ReadingsLayout, evaluation: Evaluation): FillValue[] {
  const { inspection, computed } = evaluation;
  return layout.columns.map((column): FillValue => {
    switch (column.part) {
      case 'entry':
        return entryCell(column.field, inspection.values[column.position] ?? null, inspection);
      case 'extra':
        return extraCell(inspection.extra[column.index]);
      case 'as_found':
        return foundCell(inspection, layout.fieldOf);
      case 'computed':
        return computedCell(computed[column.index] ?? null);
    }
  });
}

/** Columns that stay in sight: up to and with the unit, when it stands near the left, else the verdict alone. */
function frozenColumns(layout: ReadingsLayout): number {
  const at = layout.columns.findIndex((column) => column.part === 'entry' && column.field.name === 'unit');
  return at >= 0 && at <= 4 ? at + 1 : 1;
}

function bandOf(column: SheetColumn, { plan }: SheetContext): string {
  switch (column.part) {
    case 'entry':
      return plan.dictionary.groups.find(({ group }) => group === column.field.group)?.title ?? 'Added columns';
    case 'extra':
      return 'Columns of your own';
    case 'as_found':
      return 'As found';
    case 'computed':
      return BAND_TITLES[column.column.band];
  }
}

function titleOf(column: SheetColumn): string {
  switch (column.part) {
    case 'entry':
      return column.field.kind === 'pressure' ? `${column.field.title} (pressure unit)` : column.field.kind === 'time' ? `${column.field.title} (min:s)` : column.field.title;
    case 'extra':
      return column.header;
    case 'as_found':
      return 'Text as found';
    case 'computed':
      return column.column.title;
  }
}

function nameOf(column: SheetColumn): string {
  switch (column.part) {
    case 'entry':
      return column.field.name;
    case 'extra':
      return column.header;
    case 'as_found':
      return AS_FOUND;
    case 'computed':
      return column.column.name;
  }
}

function widthOf(column: SheetColumn): number {
  if (column.part === 'entry') return Math.max(column.field.width, 11);
  if (column.part === 'computed') return Math.max(column.column.width, 11);
  return column.part === 'extra' ? 14 : 20;
}

function lookOf(column: SheetColumn): CellLook {
  if (column.part === 'computed') return computedLook(column.column);
  const entry: CellLook = { line: true, unlocked: true };
  if (column.part !== 'entry') return entry;
  switch (column.field.kind) {
    case 'date':
      return { ...entry, format: 'yyyy-mm-dd', centre: true };
    case 'time':
      return { ...entry, format: '@', right: true };
    case 'text':
      return { ...entry, format: '@' };
    case 'pressure':
      return { ...entry, format: '0.###' , right: true };
    default:
      return column.field.kind === 'quantity' || column.field.kind === 'count' ? { ...entry, format: 'General', right: true } : { ...entry, centre: true };
  }
}

function computedLook(column: ComputedColumn): CellLook {
  const look: CellLook = { ...PALETTE.computed, line: true, format: column.format === 'number' ? NUMBER_FORMATS[column.decimals] : COMPUTED_FORMATS[column.format] };
  if (column.format === 'verdict') return { ...look, centre: true };
  if (column.format === 'sentence') return { ...look, wrap: column.band === 'result', size: 9 };
  return column.type === 'number' ? { ...look, right: true } : look;
}

function totalWidth(layout: ReadingsLayout): number {
  return layout.columns.slice(0, lastPrinted(layout) + 1).reduce((sum, column) => sum + widthOf(column), 0);
}

/** The last column before those in words and the working columns, which are left out in print. */
function lastPrinted(layout: ReadingsLayout): number {
  const first = layout.columns.findIndex((column) => column.part === 'computed' && (column.column.band === 'reasons' || column.column.band === 'working'));
  return (first < 0 ? layout.columns.length : first) - 1;
}

function validate(sheet: Worksheet, field: Field, letters: string, { layout, plan }: SheetContext, lastRow: number): void {
  const at = `${letters}${layout.firstRow}`;
  validateEntries(sheet, `${at}:${letters}${lastRow}`, field, validationOf(field, at, `$${layout.lettersOf(PSI_FACTOR)}${layout.firstRow}`, plan));
}

/** The highest pressure that is taken, in psi and in the unit in which pressures are shown. */
function highestWords(psi: number, shownIn: ShownIn): string {
  const step = shownIn.shownPressure === 'bar' ? 0.1 : 1;
  return shownIn.shownPressure === 'psi' ? `${psi} psi` : `${Number((Math.floor(toShown(psi, 'psi', shownIn)! / step) * step).toFixed(1))} ${shownIn.shownPressure} (${psi} psi)`;
}

/** A list that is offered; where it has more characters than a list may, the length of its longest word. */
function choiceValidation(choices: readonly string[]): DataValidation {
  const list = choices.join(',');
  if (list.length > LONGEST_LIST) return { type: 'textLength', operator: 'lessThan', formulae: [1 + Math.max(...choices.map(({ length }) => length))], error: `One of ${choices.length} words, such as ${choices[0]}.` };
  return { type: 'list', formulae: [`"${list}"`], error: `One of ${choices.join(', ')}.`.slice(0, LONGEST_ERROR) };
}

function validationOf(field: Field, at: string, factor: string, shownIn: ShownIn): DataValidation {
  const { from, to } = field.plausible ?? { from: 0, to: HIGHEST_PLAUSIBLE_PRESSURE };
  switch (field.kind) {
    case 'choice':
      return choiceValidation(field.choices!);
    case 'yes_no':
      return { type: 'list', formulae: ['"yes,no"'], error: 'yes or no.' };
    case 'date':
      return DATE_VALIDATION;
    case 'count':
      return { type: 'whole', operator: 'between', formulae: [from, to], error: `A whole number from ${from} to ${to}.` };
    case 'quantity':
      return { type: 'decimal', operator: 'between', formulae: [from, to], error: `A number from ${from} to ${to}.` };
    case 'pressure': {
      const number = `AND(ISNUMBER(${at}),${at}>=0,${at}*${factor}<=${field.plausible?.to ?? HIGHEST_PLAUSIBLE_PRESSURE})`;
      return { type: 'custom', formulae: [field.never ? `OR(${at}="never",${number})` : number], error: `A pressure in the row's unit, up to ${highestWords(field.plausible?.to ?? HIGHEST_PLAUSIBLE_PRESSURE, shownIn)}${field.never ? ', or never' : ''}.` };
    }
    case 'time':
      return { type: 'textLength', operator: 'lessThan', formulae: [13], error: 'minutes:seconds, such as 1:00.' };
    case 'text':
      return { type: 'textLength', operator: 'lessThan', formulae: [1001], error: 'At most 1,000 characters.' };
  }
}
