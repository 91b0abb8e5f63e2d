import { READINGS_SHEET } from './readings-layout.js';

/** A sheet of the workbook, and the question that it answers. */
interface SheetPurpose {
  readonly sheet: string;
  readonly question: string;
  /** What it is there for; left out where it always is. */
  readonly only?: 'baseline' | 'severalSets' | 'strokes';
}

/** What a workbook may hold beside what every one does. */
export interface WorkbookParts {
  readonly baseline: boolean;
  readonly severalSets: boolean;
  readonly strokes: boolean;
  /** The sheets of readings after the first; none when left out. */
  readonly furtherReadings?: readonly string[];
}

/** The sheets in their order. README shows the same table. */
const PURPOSES: readonly SheetPurpose[] = [
  { sheet: 'Start here', question: 'What is this, what must I take care of, how do I enter a row?' },
  { sheet: 'Units', question: 'Which units must be pulled in first, which leak most, and which get worse?' },
  { sheet: 'Open work', question: 'Which failures are open, since when, where to look, and how fast are they closed?' },
  { sheet: 'One unit', question: 'How did the losses of one unit go, against their limits and by its own control chart?' },
  { sheet: 'Trend', question: 'Does the fleet get better or worse, from one week, month or quarter to the next?' },
  { sheet: 'Fail rates', question: 'What fails most, and at which site, kind of vehicle and inspector?' },
  { sheet: 'Baseline', question: 'Is the fleet better or worse than in an earlier table?', only: 'baseline' },
  { sheet: 'Borders', question: 'Which units pass under one authority and fail under another, and where do their limits differ?', only: 'severalSets' },
  { sheet: 'Readings', question: 'What was read on each inspection, what is the verdict, and why?' },
  { sheet: 'Strokes', question: 'How far does each pushrod move against its limit, and which vehicles are out of adjustment?', only: 'strokes' },
  { sheet: 'Cab checklist', question: 'What is done and written down in the cab for these limits, on one page of paper?' },
  { sheet: 'Limits', question: 'Against which limits, from which source, and how is each measure computed?' },
  { sheet: 'Problems', question: 'Which cells could not be taken as they stood, and how are they mended?' },
  { sheet: 'Data quality', question: 'Do any readings look as if they were not taken?' },
  { sheet: 'Provenance', question: 'Which file and which limits was this made from, and do the counts add up?' },
];

/** Every part that a workbook may hold. */
export const EVERY_PART: WorkbookParts = { baseline: true, severalSets: true, strokes: true };

/**
 * The sheets of a workbook in their order, and the question that each answers.
 *
 * @example [...sheetPurposes({ baseline: false, severalSets: false, strokes: true }).keys()][7] // 'Strokes'
 */
export function sheetPurposes(parts: WorkbookParts): ReadonlyMap<string, string> {
  const further = (parts.furtherReadings ?? []).map((sheet) => [sheet, 'The same of the inspections for which the sheet before has no more rows.'] as const);
  return new Map(PURPOSES.flatMap(({ sheet, question, only }) => (only === undefined || parts[only] ? [[sheet, question] as const, ...(sheet === READINGS_SHEET ? further : [])] : [])));
}
