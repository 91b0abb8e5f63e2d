import type { CellValue } from 'exceljs';
import type { BaselineComparison } from '../../fleet/baseline-comparison.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { describeColumns } from '../../readings/column-map.js';
import type { BaselineInfo } from '../baseline-info.js';
import { alignCell, setUpPrint, styleCell } from '../cell-styles.js';
import { columnRangeName } from '../defined-names.js';
import { EntriesSha256 } from '../entries-sha256.js';
import { PALETTE } from '../palette.js';
import { periodCounts } from '../period-counts.js';
import { programVersion } from '../program-version.js';
import type { ReadingsLayout } from '../readings-layout.js';
import type { EvaluatedRows, SheetContext, SheetParts } from '../sheet-context.js';
import type { SourceInfo } from '../source-info.js';
import { spanWords } from '../span-words.js';
import { problemsListed } from './problems-sheet.js';
import { strokesProvenance } from '../strokes-provenance.js';
import { writeTitle } from '../write-table.js';

/** The sheet's name. */
export const PROVENANCE_SHEET = 'Provenance';

/** Labels of the lines that are read back when a workbook is verified. */
export const PROVENANCE_LABELS = {
  program: 'Program',
  limitSet: 'Limit set',
  limitSetSha256: 'Limit set, SHA-256 of its canonical JSON',
  input: 'Input',
  entriesSha256: 'Entries, SHA-256',
  rowsRead: 'Rows read below the header',
  rowsBlank: 'of them blank',
  rowsSetAside: 'of them set aside (totals, or held already)',
  inspections: 'Inspections',
  sheetsOfReadings: 'Sheets of readings',
  rowsOnReadings: 'Rows on the sheet Readings',
  rowsAddUp: 'Do the rows add up?',
  problems: 'Cells not taken as they stood',
  problemsNotListed: 'of them without room on the sheet Problems (evaluate --json lists them)',
  linesOnProblems: 'Lines on the sheet Problems',
  linesAddUp: 'Do they add up?',
  period: 'Period that the summaries count',
  by: 'Trend by',
  countedTo: 'Days are counted to',
  inPeriod: 'Inspections in the period',
  beforePeriod: 'before the period',
  afterPeriod: 'after the period',
  undated: 'without a date',
  datesAddUp: 'Do they add up to the rows on Readings?',
  summariesFrom: 'Summaries from',
  summariesUpTo: 'Summaries up to',
  baseline: 'Baseline',
  baselineSha256: 'Baseline, SHA-256 of its bytes',
  baselineInspections: 'Baseline, inspections',
  baselineLimits: 'Baseline, limit set that it names itself',
  ownColumns: 'Columns not of the program',
} as const;

/** What the checks of the counts say when they do not add up. */
export const COUNTS_DIFFER = { rows: 'NO: rows were added or deleted since', lines: 'NO: lines were added or deleted since', dates: 'NO: rows were added or deleted since' } as const;

/** What stands as the input of a workbook for entry. */
export const NO_INPUT = 'none: a blank workbook for entry';

/** Lays out the sheet Provenance: what the workbook was made from, and counts that add up. */
export function provenanceSheet({ book, plan, layout, fleet, live, mostLines }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(PROVENANCE_SHEET);
  sheet.getColumn(1).width = 44;
  sheet.getColumn(2).width = 90;
  writeTitle(sheet, 'Provenance', 'What this workbook was made from. The last line of each block checks the one above it.', 2);
  let row = 3;
  const pair = (label: string, value: CellValue): void => {
    row += 1;
    const [a, b] = [sheet.getCell(`A${row}`), sheet.getCell(`B${row}`)];
    a.value = label;
    b.value = value;
    styleCell(a, { ...PALETTE.header, bold: true, line: true, top: true });
    styleCell(b, { line: true, wrap: true, top: true });
    alignCell(b, { ...b.alignment, horizontal: 'left' });
    if (typeof value === 'string' && value.length > 88) sheet.getRow(row).height = 4 + 15 * Math.ceil(value.length / 84);
  };
  const gap = (): void => void (row += 1);
  pair(PROVENANCE_LABELS.program, `Treadlebook ${programVersion()}`);
  pair(PROVENANCE_LABELS.limitSet, `${plan.set.id}: ${plan.set.title}`);
  pair(PROVENANCE_LABELS.limitSetSha256, plan.sha256);
  gap();
  if (fleet) {
    const { source } = fleet;
    pair(PROVENANCE_LABELS.input, source.name);
    for (const file of source.files?.slice(0, MOST_FILES) ?? []) pair('of it', fileWords(file));
    if (source.files && source.files.length > MOST_FILES) pair('of it', `${source.files.length - MOST_FILES} more files; the JSON lists all`);
    pair('Input, sheet', source.files ? 'that of each file' : source.sheet === '' ? 'none: the file is one table' : source.sheet);
    pair(source.files ? 'Input, SHA-256 of the SHA-256 of its files, one a line' : 'Input, SHA-256 of its bytes', source.sha256);
    pair(PROVENANCE_LABELS.entriesSha256, entriesSha256(fleet, plan, layout));
    gap();
    pair(PROVENANCE_LABELS.rowsRead, source.rows_read);
    pair(PROVENANCE_LABELS.rowsBlank, source.rows_blank);
    pair(PROVENANCE_LABELS.rowsSetAside, source.rows_set_aside);
    pair(PROVENANCE_LABELS.inspections, source.inspections);
    const { parts } = layout;
    const rowsOnReadings = row + 1;
    pair(PROVENANCE_LABELS.rowsOnReadings, { formula: parts.map(({ part }) => `SUMPRODUCT(--(${columnRangeName('computed.row_filled', part)}="yes"))`).join('+'), result: source.inspections });
    pair(PROVENANCE_LABELS.rowsAddUp, { formula: `IF(AND(B${row - 4}=B${row - 3}+B${row - 2}+B${row - 1},B${row - 1}=B${row}),"yes","${COUNTS_DIFFER.rows}")`, result: source.rows_read === source.rows_blank + source.rows_set_aside + source.inspections ? 'yes' : COUNTS_DIFFER.rows });
    if (parts.length > 1) {
      gap();
      pair(PROVENANCE_LABELS.sheetsOfReadings, parts.length);
      for (const { sheet: name, before, rowCount } of parts) pair(`on the sheet ${name}`, `inspections ${before + 1} to ${before + rowCount}`);
    }
    gap();
    if (fleet.strokes) {
      for (const [label, value] of strokesProvenance(fleet.strokes, row + 1)) pair(label, value);
      gap();
    }
    pair(PROVENANCE_LABELS.problems, fleet.problems.length);
    const listed = problemsListed(fleet.problems.length, mostLines);
    const notListed = fleet.problems.length - listed;
    if (notListed > 0) pair(PROVENANCE_LABELS.problemsNotListed, notListed);
    pair(PROVENANCE_LABELS.linesOnProblems, { formula: `COUNTA(Problems!$G$4:$G$${3 + Math.max(1, listed)})`, result: listed });
    pair(PROVENANCE_LABELS.linesAddUp, { formula: `IF(${notListed > 0 ? `B${row - 2}=B${row - 1}+B${row}` : `B${row - 1}=B${row}`},"yes","${COUNTS_DIFFER.lines}")`, result: 'yes' });
    gap();
    periodLines(pair, () => row, fleet, rowsOnReadings);
    gap();
    if (fleet.baseline) {
      baselineLines(pair, fleet.baseline, fleet.baselineInfo ?? null);
      gap();
    }
  } else {
    pair(PROVENANCE_LABELS.input, NO_INPUT);
    pair('Rows ready for entry', layout.rowCount);
    gap();
  }
  pair('Units, Open work, Trend, Fail rates', liveWords(live, fleet));
  pair(PROVENANCE_LABELS.ownColumns, layout.columns.flatMap((column) => (column.part === 'extra' ? [column.header || '(no header)'] : [])).join(', ') || 'none');
  if (fleet) {
    gap();
    for (const note of fleet.notes) pair('How the input was read', note);
    pair('Columns of the input', 'what each was taken as, and how that was told');
    for (const { column, header, field, unit, how } of describeColumns(fleet.columns, plan.dictionary)) {
      pair(`${column}: ${header || '(no header)'}`, field === null ? how : `${field}${unit ? ` in ${unit}` : ''} (by ${how})`);
    }
  }
  setUpPrint(sheet);
  return {};
}

/** Files that are listed one by one. */
const MOST_FILES = 40;

function fileWords({ name, sheet, sha256, inspections, rows_read }: SourceInfo): string {
  return `${name}${sheet === '' ? '' : `, sheet ${sheet}`}: ${inspections} inspections in ${rows_read} rows; SHA-256 ${sha256}`;
}

type Pair = (label: string, value: CellValue) => void;

/** Which inspections the summaries count, and a check that none is lost between the period and what lies outside it. */
function periodLines(pair: Pair, row: () => number, { evaluations, summary }: EvaluatedRows, rowsOnReadings: number): void {
  const { period, counted_to } = summary;
  const isOpen = period.from === null && period.to === null;
  const { inside, before, after, undated } = periodCounts(evaluations, period);
  const nothing = inside === 0 ? '; no inspection lies in it' : '';
  const history = period.from === null ? '' : '; Units and Open work tell how things stand at its end, from what lies before it too';
  pair(PROVENANCE_LABELS.period, isOpen ? 'all inspections; those without a date stand in no week, month or quarter of the trend' : `${spanWords(period)}, both days included${nothing}${history}`);
  if (period.from !== null) pair(PROVENANCE_LABELS.summariesFrom, period.from);
  if (period.to !== null) pair(PROVENANCE_LABELS.summariesUpTo, period.to);
  pair(PROVENANCE_LABELS.by, period.by);
  pair(PROVENANCE_LABELS.countedTo, counted_to ?? 'none: no inspection has a date');
  for (const [label, count] of [[PROVENANCE_LABELS.inPeriod, inside], [PROVENANCE_LABELS.beforePeriod, before], [PROVENANCE_LABELS.afterPeriod, after], [PROVENANCE_LABELS.undated, undated]] as const) pair(label, count);
  pair(PROVENANCE_LABELS.datesAddUp, { formula: `IF(SUM(B${row() - 3}:B${row()})=B${rowsOnReadings},"yes","${COUNTS_DIFFER.dates}")`, result: 'yes' });
}

function baselineLines(pair: Pair, { source }: BaselineComparison, info: BaselineInfo | null): void {
  pair(PROVENANCE_LABELS.baseline, source.name);
  pair(PROVENANCE_LABELS.baselineSha256, source.sha256);
  pair(PROVENANCE_LABELS.baselineInspections, source.inspections);
  if (info && info.otherLimits !== null) pair(PROVENANCE_LABELS.baselineLimits, info.otherLimits);
}

function liveWords(live: boolean, fleet: EvaluatedRows | null): string {
  if (live) return 'live formulas over Readings';
  const { period } = fleet!.summary;
  const reason = period.from === null && period.to === null ? 'live formulas would hold every inspection, and too many make a program wait' : 'live formulas would count every inspection, not those of the period';
  return `values computed when this workbook was written: ${reason}`;
}

function entriesSha256(fleet: EvaluatedRows, plan: LimitPlan, layout: ReadingsLayout): string {
  const entries = new EntriesSha256(plan.dictionary, layout.columns.flatMap((column) => (column.part === 'extra' ? [column.header] : [])));
  for (const { inspection } of fleet.evaluations) entries.add(inspection);
  return entries.result();
}
