/** The sheets of the workbook and the question that each answers, in their order. README shows the same table. */
export const SHEET_PURPOSES = {
  'Start here': 'What is this, what must I take care of, how do I enter a row?',
  Units: 'Which units must be pulled in first, which leak most, and which get worse?',
  'Open work': 'Which failures are open, since when, where to look, and how fast are they closed?',
  'One unit': 'How did the losses of one unit go, against their limits and by its own control chart?',
  Trend: 'Does the fleet get better or worse, from one week, month or quarter to the next?',
  'Fail rates': 'What fails most, and at which site, kind of vehicle and inspector?',
  Borders: 'Which units pass under one authority and fail under another, and where do their limits differ?',
  Readings: 'What was read on each inspection, what is the verdict, and why?',
  Strokes: 'How far does each pushrod move against its limit, and which vehicles are out of adjustment?',
  'Cab checklist': 'What is done and written down in the cab for these limits, on one page of paper?',
  Limits: 'Against which limits, from which source, and how is each measure computed?',
  Problems: 'Which cells could not be taken as they stood, and how are they mended?',
  'Data quality': 'Do any readings look as if they were not taken?',
  Provenance: 'Which file and which limits was this made from, and do the counts add up?',
} as const;

/** The sheet that is there only where a baseline was given, behind Fail rates, and the question that it answers. */
export const BASELINE_PURPOSE = { Baseline: 'Is the fleet better or worse than in an earlier table?' } as const;

/** The sheets of a workbook with a baseline or without one, in their order, and the question that each answers. */
export function sheetPurposes(hasBaseline: boolean): ReadonlyMap<string, string> {
  const purposes: [string, string][] = Object.entries(SHEET_PURPOSES);
  if (hasBaseline) purposes.splice(purposes.findIndex(([name]) => name === 'Fail rates') + 1, 0, ...Object.entries(BASELINE_PURPOSE));
  return new Map(purposes);
}
