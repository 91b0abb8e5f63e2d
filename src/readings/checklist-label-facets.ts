import { PhraseScan, wholeWords } from './checklist-phrase-scan.js';
import type { TestName } from './checklist-test-name.js';
import { takeTest } from './checklist-test-phrases.js';
import type { PressureUnit } from './pressure-units.js';
import { parsePressureUnit } from './pressure-units.js';

/** The circuits whose gauge a label may name. */
export type CircuitName = 'primary' | 'secondary' | 'both';

/** Which reading of a test a label may name. */
export type Moment = 'start' | 'end' | 'time' | 'settle';

/** What the words of a label say. What they leave open is null. */
export interface LabelFacets {
  readonly test: TestName | null;
  readonly circuit: CircuitName | null;
  readonly moment: Moment | null;
  readonly unit: PressureUnit | null;
  readonly timeUnit: 'min' | 's' | null;
  /** The pressures between which a build-up is timed, where the label names them. */
  readonly span: readonly [number, number] | null;
}

const NOUN = '(?:circuit|system|tank|gauge|needle|reservoir)s?';
const UNIT = wholeWords('psig?|kpa|bars?|lbs');
const ENGINE = wholeWords('(?:with )?(?:the )?engine (?:is )?(?:off|stopped|not running)|key (?:on|off)');
const AFTER_MINUTES = wholeWords('(?:after|at) (?:the )?(?:1|one|2|two|3|three) min(?:ute)?s?');
const SO_MANY_MINUTES = wholeWords('(?:1|one|2|two|3|three) min(?:ute)?s?');
const SPAN = wholeWords('(?:from )?(\\d{1,4}(?:\u00b7\\d)?) (?:\\| )?(?:to |and )?(\\d{1,4}(?:\u00b7\\d)?)');
const SETTLE = wholeWords('(?:settl(?:e|ed|ing)|stabili[sz](?:e|ed|ing|ation))(?: (?:time|for))?');
const PRIMARY = wholeWords(`(?:primary|prim|pri)(?: ${NOUN})?|${NOUN} (?:no )?(?:1|one)|no 1 ${NOUN}`);
const SECONDARY = wholeWords(`(?:secondary|secondry)(?: ${NOUN})?|${NOUN} (?:no )?(?:2|two)|no 2 ${NOUN}`);
const SEC = wholeWords('sec');
const BOTH = wholeWords(`both(?: ${NOUN})?`);
const TIME = wholeWords('time(?: taken)?(?: to)?|duration|how long|elapsed');
const MINUTES = wholeWords('mins?|minutes?');
const SECONDS = wholeWords('secs?|seconds?');
const LETTERS: ReadonlyMap<string, 'min' | 's'> = new Map([['m', 'min'], ['s', 's'], ['mm', 'min'], ['ss', 's']]);
const START = wholeWords('start(?:s|ed|ing)?|begin(?:s|ning)?|began|before|from|initial');
const END = wholeWords('end(?:s|ed|ing)?|finish(?:es|ed)?|final|after|to|stop(?:s|ped)?');

/**
 * What a label says, by its words alone: which test, which circuit, which reading. Every word must be one that belongs
 * there; a label with any other word says something else.
 *
 * @param folded the label, folded by `foldLabel`
 * @returns null where the label has a word that does not belong, or says two things at once
 *
 * @example
 * labelFacets('static test primary tank before')
 * // { test: 'released', circuit: 'primary', moment: 'start', unit: null, timeUnit: null, span: null }
 * labelFacets('parking brake holds the vehicle') // null
 */
export function labelFacets(folded: string): LabelFacets | null {
  const scan = new PhraseScan(folded);
  const units = new Set<PressureUnit>();
  for (let match = scan.take(UNIT); match; match = scan.take(UNIT)) units.add(parsePressureUnit(match[0])!);
  scan.takeAll(ENGINE);
  const moments = new Set<Moment>();
  if (scan.takeAll(AFTER_MINUTES)) moments.add('end');
  scan.takeAll(SO_MANY_MINUTES);
  const span = scan.take(SPAN);
  const test = takeTest(scan);
  if (test === undefined) return null;

  const settles = scan.takeAll(SETTLE);
  if (scan.takeAll(TIME)) moments.add('time');
  if (scan.takeAll(START)) moments.add('start');
  if (scan.takeAll(END)) moments.add('end');
  const circuits = new Set<CircuitName>();
  if (scan.takeAll(PRIMARY)) circuits.add('primary');
  if (scan.takeAll(SECONDARY)) circuits.add('secondary');
  if (scan.takeAll(BOTH)) circuits.add('both');
  // `Sec start` is the secondary gauge, `Time (sec)` is in seconds.
  if (!moments.has('time') && (moments.size > 0 || circuits.has('primary')) && scan.takeAll(SEC)) circuits.add('secondary');
  const timeUnits = new Set<'min' | 's'>();
  if (scan.takeAll(MINUTES)) timeUnits.add('min');
  if (scan.takeAll(SECONDS)) timeUnits.add('s');
  if (timeUnits.size > 0) moments.add('time');
  if (settles) {
    moments.delete('time');
    moments.add('settle');
  }
  const timed = moments.has('time') || moments.has('settle');
  for (const word of scan.left()) {
    const unit = timed ? LETTERS.get(word) : undefined;
    if (unit) timeUnits.add(unit);
    else if (!test.belongs.has(word)) return null;
  }
  if (units.size > 1 || moments.size > 1 || circuits.size > 1 || (span !== null && test.name !== 'buildup')) return null;
  return {
    test: test.name,
    circuit: [...circuits][0] ?? null,
    moment: [...moments][0] ?? null,
    unit: [...units][0] ?? null,
    timeUnit: timeUnits.size === 1 ? [...timeUnits][0]! : null,
    span: span === null ? null : [numberOf(span[1]!), numberOf(span[2]!)],
  };
}

function numberOf(digits: string): number {
  return Number(digits.replace('\u00b7', '.'));
}
