/** The longest stroke that is taken for one, in inches: the longest listed limit is 3 in, and 80 % of its rated stroke. Common practice, no source. */
export const LONGEST_STROKE_IN = 5;

/** Decimals of an inch in words. */
export const WORD_DECIMALS = 3;

/** What is said of a chamber that has no verdict, or where it cannot be decided. The sheet's formulas say the same. */
export const STROKE_WORDS = {
  noStroke: 'no stroke entered',
  notUnderstood: 'the stroke was not understood: write it as 1.75, or in millimetres with the unit mm',
  unit: 'the stroke unit is neither in nor mm',
  implausible: `the stroke is not between 0 and ${LONGEST_STROKE_IN} in: check it and its unit`,
  noSize: 'no chamber size entered',
  notMoved: 'the pushrod did not move: find out whether this brake works, and measure again',
  notListed: ' is not in the table of limits: write the rated stroke marked on it',
  byRated: ', not listed: by its rated stroke',
  atLimit: '; exactly at the limit: the rule says "must not be greater than", Virginia rejects a stroke that equals its own',
  whole: '; counts as one defective brake',
  half: '; counts as half a defective brake',
  printedMm: ' mm is the printed metric figure; the inch decides',
  twice: '; this position stands twice',
} as const;

/** What is said of a vehicle. */
export const VEHICLE_WORDS = {
  none: 'no stroke measured',
  outOfService: "out of service by CVSA's general rule: its share of brakes is reached",
  past: 'past the limit: parked until it is adjusted or repaired',
  within: 'no stroke past its limit',
  undecided: ' not decided',
} as const;
