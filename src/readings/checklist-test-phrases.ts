import type { TestName } from './checklist-test-name.js';
import { wholeWords, type PhraseScan } from './checklist-phrase-scan.js';

/** The test that a label names, and the other words that may stand beside it. */
export interface TestPhrase {
  readonly name: TestName | null;
  readonly belongs: ReadonlySet<string>;
}

const RESERVE = wholeWords('reserve|(?:one|1|a|single)(?: full)?(?: brake)?(?: pedal)? application');
const PARKING_OFF = wholeWords('(?:park(?:ing)?|spring)(?: brakes?)? (?:are |is )?(?:released|off)');
const RELEASED = wholeWords('(?:service )?(?:brakes? )?(?:are |is )?(?:not applied|unapplied|released?)|no(?: brake)? application|(?:service )?brakes? off|static|foot off|pedal up');
const APPLIED = wholeWords('(?:service )?(?:brakes? )?(?:are |is )?(?:fully )?applied|(?:service )?brakes? on|service application|full(?: brake)? application|foot on|pedal down|brakes? held');
const LIGHT = wholeWords('lights?|lamps?|telltale|tell tale');
const BUZZER = wholeWords('buzzers?|audible (?:warning|alarm)|alarm');
const WARNING = wholeWords('low air(?: pressure)?(?: warning)?(?: device| signal)?|low pressure warning(?: device)?|warning(?: device| signal)?');
const BUILDUP = wholeWords('build ?up|pump ?up|recharge|charge ?up');
const COMPRESSOR = wholeWords('(?:air )?compressor');
const GOVERNOR = wholeWords('governor|gov');
const CUT_IN = wholeWords('cuts? ?in');
const CUT_OUT = wholeWords('cuts? ?out');
const TRACTOR = wholeWords('tractor protection');
const PARKING = wholeWords('park(?:ing)?|spring');
const TRAILER = wholeWords('trailer');
const VALVE = wholeWords('valves?|knob|button|pop(?:s|ped|ping)?(?: ?out)?|popout|clos(?:es|ed|ing)|trip(?:s|ped|ping)?');

const EVERYWHERE = ['test', 'check', 'the', 'of', 'at', 'in', 'is', 'for', 'a', 'with', 'and', 'was', 'air', 'pressure', 'pressures', 'reading', 'readings', 'gauge', 'value'];
const LOSS = [...EVERYWHERE, 'brake', 'brakes', 'service', 'leak', 'leaks', 'leakage', 'loss', 'drop', 'down', 'leakdown', 'tank', 'tanks', 'reservoir', 'reservoirs', 'circuit', 'system', 'needle', 'fully', 'full', 'hold', 'held', 'on', 'pedal', 'foot'];
const WARNED = [...EVERYWHERE, 'on', 'off', 'came', 'come', 'comes', 'when', 'activates', 'activated', 'activation', 'goes', 'sounds', 'sounded', 'device', 'signal', 'low', 'dash', 'lower', 'visual', 'indicator'];
const BUILT = [...EVERYWHERE, 'system', 'tank', 'tanks', 'reservoir', 'engine', 'idle', 'governed', 'speed'];
const CUT = [...EVERYWHERE, 'compressor', 'governor', 'gov', 'setting', 'point'];
const POPPED = [...EVERYWHERE, 'brake', 'brakes', 'spring', 'park', 'parking', 'tractor', 'on', 'out', 'when', 'control', 'supply', 'automatic', 'automatically'];
const CONTEXT_ONLY = [...EVERYWHERE, 'on', 'came', 'comes', 'out', 'tank', 'tanks', 'reservoir', 'circuit', 'system', 'needle', 'sounded'];

const BELONGS: Readonly<Record<TestName, readonly string[]>> = {
  released: LOSS,
  applied: LOSS,
  reserve: LOSS,
  light: WARNED,
  buzzer: WARNED,
  'light and buzzer': WARNED,
  warning: WARNED,
  buildup: BUILT,
  governor: CUT,
  'cut in': CUT,
  'cut out': CUT,
  'parking valve': POPPED,
  'trailer valve': POPPED,
};
const BELONGS_SETS: ReadonlyMap<TestName | null, ReadonlySet<string>> = new Map<TestName | null, ReadonlySet<string>>([
  [null, new Set(CONTEXT_ONLY)],
  ...(Object.entries(BELONGS) as [TestName, readonly string[]][]).map(([name, words]) => [name, new Set(words)] as const),
]);

/** Takes the phrase that names a test; undefined where the label names two, or half of one. */
export function takeTest(scan: PhraseScan): TestPhrase | undefined {
  const named = new Set<TestName>();
  const take = (phrase: RegExp, name: TestName): void => {
    if (scan.takeAll(phrase)) named.add(name);
  };
  take(RESERVE, 'reserve');
  const parkingOff = scan.takeAll(PARKING_OFF);
  take(RELEASED, 'released');
  take(APPLIED, 'applied');
  if (named.has('reserve')) named.delete('applied');
  take(LIGHT, 'light');
  take(BUZZER, 'buzzer');
  const warning = scan.takeAll(WARNING);
  take(BUILDUP, 'buildup');
  const compressor = scan.takeAll(COMPRESSOR);
  const governor = scan.takeAll(GOVERNOR);
  take(CUT_IN, 'cut in');
  take(CUT_OUT, 'cut out');
  if (!takeValve(scan, named)) return undefined;
  if (named.has('light') && named.delete('buzzer')) {
    named.delete('light');
    named.add('light and buzzer');
  }
  const [first = null] = named;
  const name = first ?? (parkingOff ? 'released' : warning ? 'warning' : compressor ? 'buildup' : governor ? 'governor' : null);
  const cut = name === 'cut in' || name === 'cut out' || name === 'governor';
  const fits =
    named.size <= 1 &&
    (!parkingOff || name === 'released' || name === 'applied') &&
    (!warning || name === 'light' || name === 'buzzer' || name === 'light and buzzer' || name === 'warning') &&
    (!compressor || cut || name === 'buildup') &&
    (!governor || cut);
  return fits ? { name, belongs: BELONGS_SETS.get(name)! } : undefined;
}

/** A parking brake is not its valve: the label must speak of the valve, or of its popping out. */
function takeValve(scan: PhraseScan, named: Set<TestName>): boolean {
  const tractor = scan.takeAll(TRACTOR);
  const parking = scan.takeAll(PARKING);
  const trailer = scan.takeAll(TRAILER) || tractor;
  const valve = scan.takeAll(VALVE);
  if (parking && trailer) return false;
  if ((parking || trailer) && !valve && !tractor) return false;
  if (parking) named.add('parking valve');
  if (trailer) named.add('trailer valve');
  return true;
}
