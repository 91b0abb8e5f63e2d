import { PERIOD_LENGTHS, type PeriodLength } from '../fleet/period-summary.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { isoDateToSerial } from '../readings/date-serial.js';
import { COUNTS_DIFFER, NO_INPUT, PROVENANCE_LABELS, PROVENANCE_SHEET } from './sheets/provenance-sheet.js';
import { verifyLine, type Line } from './verify-line.js';
import type { ExpectedSheet } from './verify-sheets.js';
import { showContent, type CellContent, type VerifyTally } from './verify-tally.js';

const LABELS = PROVENANCE_LABELS;

/** What the sheet Provenance says of how the workbook was made. */
export class ProvenanceLines {
  private readonly byLabel = new Map<string, Line>();

  constructor(lines: readonly Line[]) {
    for (const line of lines) {
      const label = line.values[0];
      if (typeof label === 'string' && !this.byLabel.has(label)) this.byLabel.set(label, line);
    }
  }

  line(label: string): Line | null {
    return this.byLabel.get(label) ?? null;
  }

  value(label: string): CellContent {
    return this.line(label)?.values[1] ?? null;
  }

  count(label: string): number {
    const value = this.value(label);
    return typeof value === 'number' ? value : 0;
  }

  /** The identifier of the limit set; null when the sheet names none. */
  get limitSetId(): string | null {
    const text = this.value(LABELS.limitSet);
    return typeof text === 'string' && text.includes(':') ? text.slice(0, text.indexOf(':')) : null;
  }

  /** The period that the summaries count, and how long those of the trend are. */
  get period(): { readonly from: string | null; readonly to: string | null; readonly by: PeriodLength | null } {
    const day = (label: string): string | null => {
      const text = this.value(label);
      return typeof text === 'string' && isoDateToSerial(text) !== null ? text : null;
    };
    const by = this.value(LABELS.by);
    return { from: day(LABELS.summariesFrom), to: day(LABELS.summariesUpTo), by: PERIOD_LENGTHS.find((length) => length === by) ?? null };
  }

  /** True where it was written beside a baseline. */
  get hasBaseline(): boolean {
    return this.line(LABELS.baseline) !== null;
  }

  /** True for a workbook that was written for entry, without inspections. */
  get forEntry(): boolean {
    return this.value(LABELS.input) === NO_INPUT;
  }
}

/** What was found on the other sheets. */
export interface ProvenanceFacts {
  readonly plan: LimitPlan;
  readonly program: string;
  /** Inspections that stand on Readings now, and those of them that the names cover. */
  readonly inspections: number;
  readonly counted: number;
  readonly entriesSha256: string;
  readonly problemLines: number;
  /** The columns that are not ours, as the sheet would list them. */
  readonly ownColumns: string;
}

/** Compares what Provenance says with what is there, and the formulas by which it checks itself. */
export function verifyProvenance(lines: ProvenanceLines, expected: ExpectedSheet, facts: ProvenanceFacts, tally: VerifyTally): void {
  const say = (code: Parameters<VerifyTally['add']>[0]['code'], label: string, found: string, right: string): void => {
    const line = lines.line(label);
    tally.add({ code, sheet: PROVENANCE_SHEET, cell: line ? `B${line.number}` : '', column: label, found, expected: right });
  };
  const compare = (code: Parameters<typeof say>[0], label: string, right: string): void => {
    if (!lines.line(label)) return;
    tally.cellsCompared += 1;
    const found = showContent(lines.value(label));
    if (found !== right) say(code, label, found, right);
  };
  const { plan } = facts;
  for (const { values } of expected.lines) {
    const label = values[0];
    if (typeof label === 'string' && values[1] !== null && KNOWN.has(label) && !lines.line(label)) tally.add({ code: 'line_missing', sheet: PROVENANCE_SHEET, column: label, found: 'no such line', expected: label });
  }
  compare('program_differs', LABELS.program, facts.program);
  if (lines.limitSetId === plan.set.id) {
    compare('text_changed', LABELS.limitSet, `${plan.set.id}: ${plan.set.title}`);
    compare('limit_set_changed', LABELS.limitSetSha256, plan.sha256);
  } else if (lines.line(LABELS.limitSet)) {
    say('limit_set_other', LABELS.limitSet, showContent(lines.value(LABELS.limitSet)), `${plan.set.id}: ${plan.set.title}`);
  }
  compare('columns_changed', LABELS.ownColumns, facts.ownColumns);
  if (lines.forEntry) return;
  const written = lines.count(LABELS.inspections);
  if (lines.line(LABELS.inspections) && facts.inspections !== written) {
    say(facts.inspections > written ? 'rows_added' : 'rows_deleted', LABELS.inspections, `${facts.inspections} on Readings now`, `${written} when the workbook was written`);
  } else {
    compare('entries_changed', LABELS.entriesSha256, facts.entriesSha256);
    if (showContent(lines.value(LABELS.entriesSha256)) === facts.entriesSha256) {
      const right = new Map(expected.lines.map(({ values }) => [values[0], values[1] ?? null]));
      for (const label of [...DATE_COUNTS, LABELS.countedTo]) compare('counts_changed', label, showContent(right.get(label) ?? null));
    }
  }
  verifyCounts(lines, expected, facts, say, tally);
}

/** The counts of inspections by where their date lies. */
const DATE_COUNTS = [LABELS.inPeriod, LABELS.beforePeriod, LABELS.afterPeriod, LABELS.undated] as const;

/** Lines that are looked for; those that describe the input cannot be checked and may be left out. */
const KNOWN: ReadonlySet<string> = new Set(Object.values(LABELS));

function verifyCounts(lines: ProvenanceLines, expected: ExpectedSheet, facts: ProvenanceFacts, say: (code: 'counts_changed', label: string, found: string, right: string) => void, tally: VerifyTally): void {
  const parts = [LABELS.rowsBlank, LABELS.rowsSetAside, LABELS.inspections].map((label) => lines.count(label));
  const sum = parts.reduce((total, part) => total + part, 0);
  const addsUp = lines.count(LABELS.rowsRead) === sum;
  if (!addsUp && lines.line(LABELS.rowsRead)) say('counts_changed', LABELS.rowsRead, showContent(lines.value(LABELS.rowsRead)), `${parts.join(' + ')} = ${sum}`);
  const dates = DATE_COUNTS.reduce((total, label) => total + lines.count(label), 0);
  const results = new Map<string, CellContent>([
    [LABELS.rowsOnReadings, facts.counted],
    [LABELS.rowsAddUp, addsUp && lines.count(LABELS.inspections) === facts.counted ? 'yes' : COUNTS_DIFFER.rows],
    [LABELS.linesOnProblems, facts.problemLines],
    [LABELS.datesAddUp, dates === facts.counted ? 'yes' : COUNTS_DIFFER.dates],
    [LABELS.linesAddUp, facts.problemLines + lines.count(LABELS.problemsNotListed) === lines.count(LABELS.problems) ? 'yes' : COUNTS_DIFFER.lines],
  ]);
  for (const line of expected.lines) {
    const label = line.values[0];
    const found = typeof label === 'string' ? lines.line(label) : null;
    if (!found || !results.has(label as string)) continue;
    verifyLine({ ...line, values: [label as string, results.get(label as string)!] }, found, { sheet: PROVENANCE_SHEET, tally, constant: 'text_changed', columnName: () => label as string });
  }
}
