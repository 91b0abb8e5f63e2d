import type { CellValue, Worksheet } from 'exceljs';
import type { DefinedName } from '../../formats/xlsx-package/assemble-xlsx.js';
import type { AlternativePlan, CheckPlan, LimitCell } from '../../limits/compile-checks.js';
import { comparatorOf, printedLimits } from '../../limits/compile-checks.js';
import { COMPARATOR_WORDS, endWords, noNumberWords } from '../../limits/comparator-words.js';
import { remarks } from '../../limits/check-remarks.js';
import { measureName } from '../../limits/name-scope.js';
import { FACTS_USED } from '../../limits/facts-used.js';
import { toWords } from '../../expressions/to-words.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { shownDivisor } from '../../limits/shown-pressure.js';
import type { PressureUnit } from '../../readings/pressure-units.js';
import type { MeasurePlan } from '../../limits/compile-measures.js';
import { setUpPrint, styleCell } from '../cell-styles.js';
import { cellName } from '../defined-names.js';
import { PALETTE } from '../palette.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';
import { writeHeader, writeRow, writeTitle, type TableColumn } from '../write-table.js';

/** The sheet's name. */
export const LIMITS_SHEET = 'Limits';

const NUMBER = { right: true, bold: true, format: 'General' } as const;
const COLUMNS: readonly TableColumn[] = [
  { title: 'Check', width: 24, look: { bold: true } },
  { title: 'Measure', width: 22 },
  { title: 'Applies when', width: 20 },
  { title: 'Comparator', width: 12 },
  { title: 'Limit', width: 10, look: NUMBER },
  { title: 'Upper limit', width: 10, look: NUMBER },
  { title: 'Unit', width: 9 },
  { title: 'Limit as written', width: 18 },
  { title: 'Source', width: 34 },
  { title: 'Comparator as printed', width: 34 },
  { title: 'Status of the source', width: 13 },
  { title: 'Note', width: 44 },
];

/** Lays out the sheet Limits. The number cells have names, and the formulas of Readings use those names. */
export function limitsSheet({ book, plan, layout }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(LIMITS_SHEET, { views: [{ state: 'frozen', xSplit: 1, ySplit: 4 }] });
  COLUMNS.forEach(({ width }, index) => (sheet.getColumn(index + 1).width = width));
  writeTitle(sheet, `Limits: ${plan.set.title}`, `${plan.set.authority}. ${plan.set.notice} A number changed here changes the verdicts on Readings${layout.parts.length > 1 ? ` and on the ${layout.parts.length - 1} sheets on which they go on` : ''}.`, COLUMNS.length);
  sheet.getRow(2).height = 34;
  const definedNames: DefinedName[] = [];
  const name = (row: number, column: string, cell: string): void => void definedNames.push({ name: cellName(cell), reference: `${LIMITS_SHEET}!$${column}$${row}` });
  const writer = new LimitsWriter(sheet, plan, (row, column, cell) => {
    if (cell) name(row, column, cell.name);
  });
  writer.checks(4);
  writer.interval();
  writer.conditions();
  writer.facts((row, fact) => name(row, 'E', `fact:${fact}`));
  const inUnits = `pressures in psi, times in seconds${plan.shownPressure === 'psi' ? '' : `; shown in ${plan.shownPressure} elsewhere`}`;
  writer.measures(`Measures: how each is computed from the readings (${inUnits})`, plan.measures.filter(({ measure }) => !measure.diagnosis));
  writer.measures(`Diagnosis, never the verdict: figures that help to find the cause (${inUnits})`, plan.measures.filter(({ name, measure }) => measure.diagnosis && layout.lettersOf(name) !== null));
  writer.likelyPlaces();
  setUpPrint(sheet, { titleRows: '1:2' });
  void sheet.protect('', { selectLockedCells: true, selectUnlockedCells: true, formatColumns: true, formatRows: true });
  return { definedNames };
}

/** Where pressures are not shown as they are computed: what is shown how, and the conversion as NIST SP 811 prints it. */
function conversionWords(shown: PressureUnit): string {
  const printed = shown === 'bar' ? '1 psi = 6.894757 kPa, 1 bar = 100 kPa' : '1 psi = 6.894757 kPa';
  return `Readings, Units, Trend, One unit, Baseline and the reasons show ${shown}; all is computed in psi (${printed}: NIST SP 811, B.8). What was typed stays as typed.`;
}

type NameCell = (row: number, column: string, cell: LimitCell | null) => void;

class LimitsWriter {
  private row = 0;

  constructor(
    private readonly sheet: Worksheet,
    private readonly plan: LimitPlan,
    private readonly nameCell: NameCell,
  ) {}

  checks(row: number): void {
    this.row = row;
    writeHeader(this.sheet, this.row, COLUMNS);
    this.sheet.getRow(this.row).height = 30;
    for (const check of this.plan.checks) for (const alternative of check.alternatives) this.check(check, alternative);
  }

  private check(plan: CheckPlan, { check, cells }: AlternativePlan): void {
    const printed = printedLimits(check);
    const values = printed.map((limit, index): CellValue => cells[index]?.value ?? (typeof limit === 'number' ? limit : null));
    const expressions = printed.filter((limit) => typeof limit === 'string').map((limit, index) => (cells[index] ? `${limit} (the number is the cell Limit)` : `${limit} (change it in the limit-set file)`));
    const words = plan.comparator === 'must_be' ? `must be ${check.must_be}` : plan.comparator === 'no_number' ? noNumberWords(plan) : COMPARATOR_WORDS[comparatorOf(check)] + endWords(check.without_ends);
    const { citation, printed: asPrinted, status, note } = check.source;
    this.line([plan.title + remarks(plan, check), check.measure, check.when ?? 'always', words, values[0] ?? null, values[1] ?? null, check.unit, expressions.join('; '), citation, asPrinted, status, note ?? '']);
    this.nameCell(this.row, 'E', cells[0] ?? null);
    this.nameCell(this.row, 'F', cells[1] ?? null);
  }

  interval(): void {
    const { interval } = this.plan;
    if (interval === null) return;
    const { citation, printed, status, note } = interval.source;
    this.heading('How often a unit is inspected: the sheet Units says what is due');
    this.header(['What', '', '', '', 'Number', '', 'Unit', '', 'Source', 'Interval as printed', 'Status of the source', 'Note']);
    this.line(['Inspection due every', '', '', '', interval.every, null, interval.unit, '', citation, printed, status, note ?? '']);
    this.sheet.mergeCells(`A${this.row}:D${this.row}`);
    this.nameCell(this.row, 'E', interval.cell);
  }

  conditions(): void {
    if (this.plan.conditions.length === 0) return;
    this.heading('Conditions of the tests: where one of these holds, the verdict is recheck');
    this.header(['Checks', 'Recheck when', '', '', 'Number', '', '', '', 'Source', 'Comparator as printed', 'Status of the source', 'What is said']);
    for (const { condition, cell } of this.plan.conditions) {
      const { citation, printed, status } = condition.source;
      this.line([condition.checks.join(', '), condition.recheck_when, '', '', cell?.value ?? null, null, '', cell ? '' : 'fixed; change it in the limit-set file', citation, printed, status, condition.say]);
      this.nameCell(this.row, 'E', cell);
      this.sheet.mergeCells(`B${this.row}:D${this.row}`);
    }
  }

  facts(nameFact: (row: number, fact: string) => void): void {
    this.heading('Numbers that the computation rests on');
    const converted = shownDivisor('psi', this.plan.shownPressure);
    this.header(['What', '', '', '', 'Number', '', '', '', 'Source', '', 'Status of the source', converted === null ? '' : 'Note']);
    for (const { fact, title, value, source, status } of FACTS_USED) {
      this.line([title, '', '', '', value, null, '', '', source, '', status, `fact:${fact}` === converted ? conversionWords(this.plan.shownPressure) : ''], true);
      this.sheet.mergeCells(`A${this.row}:D${this.row}`);
      this.sheet.mergeCells(`I${this.row}:J${this.row}`);
      nameFact(this.row, fact);
    }
  }

  measures(heading: string, measures: readonly MeasurePlan[]): void {
    if (measures.length === 0) return;
    const titles = this.titles();
    this.heading(heading);
    this.header(['Measure', 'Expression', '', '', '', '', 'Unit', 'In words', '', '', '', 'Meaning']);
    for (const { measure, tree } of measures) {
      const written = measure.expression ?? (measure.highest_of ? `highest(${measure.highest_of.join(', ')})` : `lowest(${measure.lowest_of!.join(', ')})`);
      this.line([`${measure.title} [${measure.measure}]`, written, '', '', '', '', measure.unit, toWords(tree, titles), '', '', '', measure.meaning]);
      this.sheet.mergeCells(`B${this.row}:F${this.row}`);
      this.sheet.mergeCells(`H${this.row}:K${this.row}`);
      styleCell(this.sheet.getCell(`B${this.row}`), { line: true, top: true, wrap: true });
      this.sheet.getRow(this.row).height = 4 + 13 * Math.max(2, Math.ceil(written.length / 80), Math.ceil(measure.meaning.length / 48), Math.ceil((measure.title.length + measure.measure.length + 3) / 24));
    }
  }

  likelyPlaces(): void {
    if (this.plan.likelyPlaces.length === 0) return;
    const titles = this.titles();
    const listed = (measures: readonly string[], what: string): string[] => measures.map((measure) => `${titles(measureName(measure))} ${what}`);
    this.heading('Where to look first: of the rules about one thing, the first that holds is said (common practice, no source)');
    this.header(['About', 'When', '', '', '', '', '', 'What is said', '', '', 'Status', '']);
    for (const { place, when } of this.plan.likelyPlaces) {
      const side = place.failed_side === undefined ? 'fails' : `fails ${place.failed_side} its limit`;
      const pattern = [...listed(place.failed, side), ...listed(place.passed, 'passes'), ...(when === null ? [] : [toWords(when, titles)])].join('; ');
      this.line([place.topic.replaceAll('_', ' '), '', '', '', '', '', '', '', '', '', place.status, '']);
      const [said, told] = [this.sheet.getCell(`H${this.row}`), this.sheet.getCell(`B${this.row}`)];
      this.sheet.mergeCells(`B${this.row}:G${this.row}`);
      this.sheet.mergeCells(`H${this.row}:J${this.row}`);
      told.value = pattern;
      said.value = place.say;
      this.sheet.getRow(this.row).height = 4 + 13 * Math.max(2, Math.ceil(pattern.length / 90), Math.ceil(place.say.length / 96));
    }
  }

  /** The titles of readings and measures, by their names among the names of the row program. */
  private titles(): (name: string) => string {
    const titles = new Map<string, string>(this.plan.dictionary.fields.map(({ name, title }) => [name, title]));
    for (const { name, measure } of this.plan.measures) titles.set(name, measure.title);
    return (name) => titles.get(name) ?? name;
  }

  private heading(words: string): void {
    this.row += 2;
    for (let column = 1; column <= COLUMNS.length; column++) styleCell(this.sheet.getCell(this.row, column), { ...PALETTE.band, bold: true });
    this.sheet.getCell(this.row, 1).value = words;
  }

  private header(titles: readonly string[]): void {
    this.row += 1;
    writeHeader(this.sheet, this.row, titles.map((title, index) => ({ ...COLUMNS[index]!, title })));
    this.sheet.getRow(this.row).height = 30;
  }

  private line(values: readonly CellValue[], spread = false): void {
    this.row += 1;
    writeRow(this.sheet, this.row, COLUMNS, values);
    const lines = values.map((value, index) => (typeof value === 'string' && !(index === 0 && spread) ? Math.ceil(value.length / (COLUMNS[index]!.width * 1.2)) : 1));
    this.sheet.getRow(this.row).height = 4 + 13 * Math.max(1, ...lines);
  }
}
